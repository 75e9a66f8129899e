"""What the callouts of radii and diameters say, with their counts and spacing."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from math import dist, pi

from sketcher.drafting.rebuild.drawn_outline import turn_between, unit_between
from sketcher.drafting.rebuild.operand_places import DrawnPlaces
from sketcher.drafting.rebuild.shown_dimension import ShownDimension
from sketcher.geometry.curves import XY, Arc, Circle, Line


class StatedRounds:
    """Turns callouts into bindings; of a size each round is said once, by itself or in a count."""

    def __init__(self, places: DrawnPlaces) -> None:
        self.places, self.paper = places, places.paper
        self.redrawn = places.paper.redrawn
        self._sized: set[str] = set()

    def note(self, dimensions: Iterable[ShownDimension]) -> None:
        """Note which rounds callouts point to: another's count does not hold for them."""
        for dim in dimensions:
            if dim.form in ("radius", "diameter"):
                found = self.places.round_at(dim.points[1], dim.points[0])
                self._sized.update(() if found is None else (found,))

    def bind(self, dim: ShownDimension) -> str:
        """Bind what one callout says; return what is wrong with it, or nothing."""
        center, tip = dim.points[:2]
        said, redrawn = dim.said, self.redrawn
        name = self.places.round_at(tip, center) or self._hidden(tip, center)
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

    def _hidden(self, tip: XY, center: XY) -> str | None:
        """Return a drawn hole of a field in place of one that only a detail shows."""
        field = self.paper.field_of(center)
        for drawn, name in zip(self.paper.outline.curves, self.paper.curves, strict=True):
            curve = drawn.curve
            if field is not None and isinstance(curve, Circle) and field.holds(curve.center) and (
                    abs(curve.radius - dist(tip, center)) < self.paper.tol):
                return name
        return None

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
        field = self.paper.field_of(self.paper.centers[mine])
        if field is not None:  # its corners stand for all
            near = [(o, c) for o, c in every if field.holds(self.paper.centers[c])]
            return [o for o, _ in near if o != name] if field.holes == count else None
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
        return "end" if abs(curve.sweep) > pi - 0.02 else "corner"

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
                        key=lambda c: turn_between((1.0, 0.0), unit_between(ring.center,
                                                                     paper.centers[c])))
            if len(on) != count:
                continue
            sides = [self.redrawn.line(a, b) for a, b in pairwise([*on, on[0]])]
            for one, other in pairwise(sides):
                self.redrawn.bind("equal", one, other)
            return ""
        return f"says equally spaced, but no circle has {count} of them"
