"""What the dimensions of a sheet say about the fresh part."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import pairwise
from math import cos, dist, sin

from sketcher.drafting.rebuild.drawn_fields import DrawnField
from sketcher.drafting.rebuild.drawn_outline import looks_level, turn_between, unit_between
from sketcher.drafting.rebuild.operand_places import NEAR, DrawnPlaces, Operand
from sketcher.drafting.rebuild.shown_dimension import ShownDimension
from sketcher.drafting.rebuild.stated_chamfers import bind_bevel
from sketcher.drafting.rebuild.stated_rounds import StatedRounds
from sketcher.geometry.curves import XY, Line


class Stated:
    """Turns dimensions into bindings; `unread` tells of those that start from nothing."""

    def __init__(self, places: DrawnPlaces) -> None:
        self.places, self.paper = places, places.paper
        self.redrawn = places.paper.redrawn
        self.unread: list[tuple[ShownDimension, str]] = []
        self._rounds = StatedRounds(places)

    def bind(self, shown: Iterable[ShownDimension]) -> None:
        """Bind what every dimension says that is not in parentheses."""
        driving = [dim for dim in shown if not dim.said.reference]
        self._rounds.note(driving)
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
            return self._rounds.bind(dim)
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
        field = self.paper.field_of(start, end)
        if field is not None:
            return self._field_steps(dim, field)
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

    def _field_steps(self, dim: ShownDimension, field: DrawnField) -> str:
        """Bind the outermost holes of a field by all steps together."""
        ends = [self.paper.center_at(at, marked=False) for at in dim.points[:2]]
        if None in ends or dim.said.value is None:
            return "does not run between holes that are drawn"
        field.stepped(dim.way, dim.said.count)
        whole = replace(dim, said=replace(dim.said, value=dim.said.count * dim.said.value))
        return self._apart(whole, Operand(str(ends[0])), Operand(str(ends[1])))

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
        turn = turn_between(one, other)
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
