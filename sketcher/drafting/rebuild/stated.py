"""What the dimensions of a sheet say about the fresh part."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, cos, dist, sin, tau

from sketcher.drafting.rebuild.drawn_outline import looks_level, unit_between
from sketcher.drafting.rebuild.operand_places import NEAR, DrawnPlaces, Operand
from sketcher.drafting.rebuild.read_wording import ReadWording
from sketcher.drafting.rebuild.stated_chamfers import bind_bevel
from sketcher.geometry.curves import XY, Arc, Circle, Line


@dataclass(frozen=True, slots=True)
class ShownDimension:
    """One dimension of the sheet in the sheet's unit: what it says and where its parts stand."""

    id: str
    form: str
    points: tuple[XY, ...]
    way: XY
    said: ReadWording
    text: str


class Stated:
    """Turns dimensions into bindings; `unread` tells of those that start from nothing."""

    def __init__(self, places: DrawnPlaces) -> None:
        self.places, self.paper = places, places.paper
        self.redrawn = places.paper.redrawn
        self.unread: list[tuple[ShownDimension, str]] = []
        self._sized: set[str] = set()

    def bind(self, shown: Iterable[ShownDimension]) -> None:
        """Bind what every dimension says that is not in parentheses."""
        driving = [dim for dim in shown if not dim.said.reference]
        for dim in driving:
            if dim.form in ("radius", "diameter"):
                round_ = self.places.round_at(dim.points[1], dim.points[0])
                self._sized.update(() if round_ is None else (round_,))
        # Holes on a circle first: what their callout does not hold is left to the others.
        left = sorted(driving, key=lambda dim: not dim.said.spaced)
        while left:
            problems = [(dim, problem) for dim in left if (problem := self._bind(dim))]
            if len(problems) == len(left):
                self.unread = problems
                return
            left = [dim for dim, _ in problems]

    def _bind(self, dim: ShownDimension) -> str:
        """Bind one dimension; return what is wrong with it, or nothing."""
        if dim.form == "angle":
            return self._angle(dim)
        if dim.form in ("radius", "diameter"):
            return self._round(dim)
        if dim.said.value is None:
            return "says no number"
        return self._steps(dim) if dim.said.total is not None else self._length(dim)

    # Lengths

    def _length(self, dim: ShownDimension) -> str:
        start, end = dim.points[:2]
        if dim.said.bevel is not None:
            problem = bind_bevel(self.paper, (start, end), dim.said.bevel, dim.said.count, dim.id)
            if problem:
                return problem
        elif self._across(dim, start, end):
            return ""
        one, other = (self.places.operand(at, dim.way) for at in (start, end))
        if one is None or other is None:
            return "starts from nothing that is drawn"
        return self._apart(dim, one, other)

    def _across(self, dim: ShownDimension, start: XY, end: XY) -> bool:
        """Bind the step between two rounds, measured on the line of their centers."""
        paper, value = self.paper, dim.said.value
        one, other = self.places.round_at(start), self.places.round_at(end)
        if one is None or other is None or one == other or value is None:
            return False
        if any(dist(at, p) < paper.tol for at in (*paper.outline.corners, *paper.centers.values())
               for p in (start, end)):
            return False
        centers = [self.redrawn.curves[name].points[-1] for name in (one, other)]
        first, second = (self.redrawn.points[name] for name in centers)
        if any(abs(u[0] * dim.way[1] - u[1] * dim.way[0]) > NEAR for u in (
                unit_between(first, start), unit_between(second, end))):
            return False
        kind = "offset" if centers[0] == centers[1] else "web"
        if kind == "web" and abs(dist(first, second) - sum(
                dist(c, p) for c, p in ((first, start), (second, end))) - dist(start, end)) > (
                    paper.tol):
            return False
        self.redrawn.bind(kind, one, other, value=value, said_by=dim.id)
        return True

    def _apart(self, dim: ShownDimension, one: Operand, other: Operand) -> str:
        value, redrawn = dim.said.value, self.redrawn
        assert value is not None
        if one.point == other.point:
            return "starts and ends at one place"
        if abs(dim.way[1]) < NEAR:
            redrawn.bind("run", one.point, other.point, value=value, said_by=dim.id)
        elif abs(dim.way[0]) < NEAR:
            redrawn.bind("rise", one.point, other.point, value=value, said_by=dim.id)
        elif one.line is not None:
            redrawn.bind("offset", one.line, other.line or other.point, value=value,
                         said_by=dim.id)
        elif other.line is not None:
            redrawn.bind("offset", other.line, one.point, value=value, said_by=dim.id)
        else:
            return self._slanted(dim, one.point, other.point)
        return ""

    def _slanted(self, dim: ShownDimension, one: str, other: str) -> str:
        """Bind a slanted length of two points: their distance, or square to a line laid there."""
        redrawn, value = self.redrawn, dim.said.value
        start, end = redrawn.points[one], redrawn.points[other]
        way = unit_between(start, end)
        if abs(way[0] * dim.way[1] - way[1] * dim.way[0]) < NEAR:
            redrawn.bind("distance", one, other, value=value, said_by=dim.id)
            return ""
        square = (-dim.way[1], dim.way[0])
        size = dist(start, end)
        far = redrawn.point((start[0] + size * square[0], start[1] + size * square[1]))
        line = redrawn.line(one, far)
        if not self.places.direct(line, square):
            return "runs in a direction that nothing on the drawing has"
        redrawn.bind("distance", one, far, value=size)
        redrawn.bind("offset", line, other, value=value, said_by=dim.id)
        return ""

    def _steps(self, dim: ShownDimension) -> str:
        """Bind equal steps between the centers of a row."""
        start, end = dim.points[:2]
        count = dim.said.count
        on = []
        for k in range(count + 1):
            share = k / count
            on.append(self._level_with(start, end, share, dim.way))
        if any(name is None for name in on):
            return f"says {count} steps, but there are not {count + 1} centers in the row"
        for one, other in pairwise(on):
            assert one is not None
            assert other is not None
            self._apart(dim, Operand(one), Operand(other))
        return ""

    def _level_with(self, start: XY, end: XY, share: float, way: XY) -> str | None:
        """Return the center at a share of the way, nearest to the measured line."""
        far = way[0] * (end[0] - start[0]) + way[1] * (end[1] - start[1])
        at = (start[0] + share * far * way[0], start[1] + share * far * way[1])
        found = []
        for name, place in self.paper.centers.items():
            dx, dy = place[0] - at[0], place[1] - at[1]
            if abs(dx * way[0] + dy * way[1]) < self.paper.tol:
                found.append((name not in self.paper.marked, abs(dx * way[1] - dy * way[0]), name))
        return min(found)[2] if found else None

    # Angles

    def _angle(self, dim: ShownDimension) -> str:
        vertex, first, second = dim.points[:3]
        value = dim.said.value
        if value is None:
            return "says no number"
        if dim.said.total is not None:
            return self._turns(dim)
        lines = [self.places.ray(vertex, at) for at in (first, second)]
        level = [looks_level(Line(vertex, at)) for at in (first, second)]
        sloped = [line for line in lines if line is not None]
        if len(sloped) == 2 and sloped[0] != sloped[1]:
            self.redrawn.bind("angle", *sloped, value=value, said_by=dim.id)
            return ""
        for line, other in ((lines[0], level[1]), (lines[1], level[0])):
            if line is not None and other:
                self.redrawn.bind("angle", line, value=value, said_by=dim.id)
                return ""
        return "opens between lines that are not drawn"

    def _turns(self, dim: ShownDimension) -> str:
        """Bind equal steps about a center."""
        vertex, first, second = dim.points[:3]
        hub, count = self.paper.center_at(vertex, marked=False), dim.said.count
        if hub is None:
            return "opens about nothing that is drawn"
        one, other = (unit_between(vertex, at) for at in (first, second))
        turn = _turn(one, other)
        rays = []
        for k in range(count + 1):
            c, s = cos(turn * k / count), sin(turn * k / count)
            way = (c * one[0] - s * one[1], s * one[0] + c * one[1])
            rays.append(self._ray_to(hub, vertex, way))
        if any(ray is None for ray in rays):
            return f"says {count} steps, but there are not {count + 1} centers about its own"
        for before, after in pairwise(rays):
            assert before is not None
            assert after is not None
            self.redrawn.bind("angle", before, after, value=dim.said.value, said_by=dim.id)
        return ""

    def _ray_to(self, hub: str, vertex: XY, way: XY) -> str | None:
        for name, place in self.paper.centers.items():
            dx, dy = place[0] - vertex[0], place[1] - vertex[1]
            if name != hub and abs(dx * way[1] - dy * way[0]) < self.paper.tol and (
                    dx * way[0] + dy * way[1] > self.paper.tol):
                return self.redrawn.line(hub, name)
        return None

    # Rounds

    def _round(self, dim: ShownDimension) -> str:
        center, tip = dim.points[:2]
        said, redrawn = dim.said, self.redrawn
        name = self.places.round_at(tip, center)
        kind = "diameter" if dim.form == "diameter" else "radius"
        if name is None:
            ring = self.places.ring_at(tip, center)
            if ring is None:
                return "points to nothing round that is drawn"
            if said.value is not None:
                redrawn.bind(kind, ring, value=said.value, said_by=dim.id)
            return ""
        alike = self._alike(name, said.count, said.spaced)
        if alike is None:
            return (f"holds at {said.count}, but {self._places(name)} are drawn of that size"
                    if said.count > 1 else "does not say at how many places it holds")
        self._sized.update(alike)
        for other in alike:
            redrawn.bind("equal", name, other)
        if said.value is not None:
            redrawn.bind(kind, name, value=said.value, said_by=dim.id)
        if said.spaced:
            return self._spaced([name, *alike], said.count)
        return ""

    def _candidates(self, name: str) -> list[tuple[str, str]]:
        """Rounds drawn as large as one, each with its center."""
        curves = dict(zip(self.paper.curves, self.paper.outline.curves, strict=True))
        mine = curves[name].curve
        assert not isinstance(mine, Line)
        found = []
        for other, drawn in curves.items():
            curve = drawn.curve
            if not isinstance(curve, Line) and abs(curve.radius - mine.radius) < self.paper.tol:
                found.append((other, self.redrawn.curves[other].points[-1]))
        return found

    def _places(self, name: str) -> int:
        return len({center for _, center in self._candidates(name)})

    def _alike(self, name: str, count: int, spaced: bool) -> list[str] | None:
        """Return the other rounds for which a size with a count holds; None for a wrong count."""
        every = self._candidates(name)
        mine = dict(every)[name]
        if count == 1:
            return [other for other, center in every if center == mine and other != name]
        free = [(o, c) for o, c in every if o == name or o not in self._sized]
        alike = [(o, c) for o, c in free if self._sort(o) == self._sort(name)]
        near = [(o, c) for o, c in alike if self._contour(o) == self._contour(name)]
        ring = [(o, c) for o, c in alike if self._on_one_ring(c, mine)]
        for some in (ring, alike, near, free, every)[0 if spaced else 1:]:
            if len({center for _, center in some}) == count:
                return [other for other, _ in some if other != name]
        return None

    def _on_one_ring(self, one: str, other: str) -> bool:
        """Tell whether two centers sit on one round center line."""
        return any(all(abs(dist(self.paper.centers[c], ring.center) - ring.radius) < self.paper.tol
                       for c in (one, other)) for ring in self.paper.marks.rings)

    def _sort(self, name: str) -> str:
        """Hole, rounded end, or corner."""
        curve = self.paper.outline.curves[self.paper.curves.index(name)].curve
        if isinstance(curve, Circle):
            return "hole"
        assert isinstance(curve, Arc)
        return "end" if abs(curve.sweep) > 0.5 * tau - 0.02 else "corner"

    def _contour(self, name: str) -> int:
        """Return the least number of a curve of the same contour."""
        outline, start = self.paper.outline, self.paper.curves.index(name)
        seen, more = set[int](), {start}
        while more:
            number = more.pop()
            seen.add(number)
            more |= {k for corner in outline.curves[number].ends or ()
                     for k in outline.at[corner]} - seen
        return min(seen)

    def _spaced(self, names: list[str], count: int) -> str:
        """Bind holes evenly about the center of the ring on which they sit."""
        paper = self.paper
        centers = {self.redrawn.curves[name].points[-1] for name in names}
        for ring in paper.marks.rings:
            on = sorted((c for c in centers
                         if abs(dist(paper.centers[c], ring.center) - ring.radius) < paper.tol),
                        key=lambda c: _turn((1.0, 0.0), unit_between(ring.center,
                                                                     paper.centers[c])))
            if len(on) != count:
                continue
            sides = [self.redrawn.line(a, b) for a, b in pairwise([*on, on[0]])]
            for one, other in pairwise(sides):
                self.redrawn.bind("equal", one, other)
            return ""
        return f"says equally spaced, but no circle has {count} of them"


def _turn(one: XY, other: XY) -> float:
    """Return the turn from one direction to another, in radians from 0."""
    return (atan2(other[1], other[0]) - atan2(one[1], one[0])) % tau
