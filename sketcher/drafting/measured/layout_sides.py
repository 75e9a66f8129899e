"""Dimensions that end on layout: on paper they go to the outline that the layout holds.

A scribed line on which a hole is centered is not on paper; its distance is dimensioned to the
hole. Layout that determines nothing of the outline is not dimensioned at all.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import cached_property

from sketcher.drafting.traced import Traced
from sketcher.geometry.curves import XY, Line
from sketcher.geometry.project import distance
from sketcher.part.dimension_form import DimensionForm, Linear, Side
from sketcher.part.part_size import part_size
from sketcher.part.value import Binding, LineCurve, Part, PolarPattern
from sketcher.part.whole import curve_value

NEAR = 1e-6
"""Share of the part's size within which a place lies on a line."""


class LayoutSides:
    """What the layout of a part has to do with its outline.

    Parameters
    ----------
    part : Part
        A solved part.
    traced : Traced
    """

    def __init__(self, part: Part, traced: Traced) -> None:
        self.part, self.traced = part, traced
        self._lines = {curve.ends: Line(*(part.points[end] for end in curve.ends))
                       for name, curve in part.curves.items()
                       if isinstance(curve, LineCurve) and curve.role == "layout"
                       and not traced.is_traced(name)}

    @cached_property
    def _outline_points(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(
            point for curve in self.part.curves.values() if curve.role == "outline"
            for point in reversed(curve.points)))  # the center of a round before its ends

    def seated(self, form: DimensionForm | None) -> DimensionForm | None:
        """Return the form of a dimension with the ends on layout lines at what lies on these."""
        if not isinstance(form, Linear) or form.around is not None or not self._lines:
            return form
        return replace(form, first=self._seat(form.first), second=self._seat(form.second))

    def _seat(self, side: Side) -> Side:
        line = self._lines.get(side.points) if len(side.points) == 2 else None
        if line is None or line.direction == (0.0, 0.0):
            return side
        (x, y), (dx, dy) = line.start, line.direction
        near = NEAR * part_size(self.part)

        def is_on(at: XY) -> bool:
            return abs(dx * (at[1] - y) - dy * (at[0] - x)) < near

        names = tuple(n for n in self._outline_points if is_on(self.part.points[n]))
        centers = {c.points[-1] for c in self.part.curves.values()
                   if c.role == "outline" and not isinstance(c, LineCurve)}
        names = tuple(n for n in names if n in centers) or names
        return Side(tuple(self.part.points[n] for n in names), names) if names else side

    @cached_property
    def idle(self) -> frozenset[str]:
        """Layout points and curves that determine nothing of the outline."""
        part = self.part
        kept = {point for curve in part.curves.values() if curve.role != "layout"
                for point in curve.points}
        kept |= {p.center for p in part.patterns.values() if isinstance(p, PolarPattern)}
        curves = {name for name, curve in part.curves.items() if curve.role == "layout"
                  and not self.traced.is_traced(name)}
        loose = (part.points.keys() - kept) | curves
        if not loose:
            return frozenset()
        outline = [curve_value(part, c) for c in part.curves.values() if c.role == "outline"]
        near = NEAR * part_size(part)
        found: set[str] = set()
        for cluster in self._clusters(loose):
            places = [part.points[n] for n in cluster if n in part.points]
            if any(distance(curve, at) < near for curve in outline for at in places):
                continue
            if self._freedoms(frozenset(cluster)) <= self._freedoms(frozenset()):
                found |= cluster
        return frozenset(found)

    def _clusters(self, loose: Iterable[str]) -> list[set[str]]:
        """Group layout that hangs together by curves or bindings."""
        part, groups = self.part, {name: {name} for name in loose}
        for named in (*((name, *c.points) for name, c in part.curves.items()),
                      *(b.of for b in part.bindings.values())):
            some = [groups[n] for n in named if n in groups]
            if len(some) > 1:
                joined = set[str]().union(*some)
                groups.update(dict.fromkeys(joined, joined))
        return list({id(group): group for group in groups.values()}.values())

    def _freedoms(self, without: frozenset[str]) -> int:
        """Return the freedoms that a part has without some of its layout."""
        from sketcher.solve.freedom import freedoms
        from sketcher.solve.system import System

        part = self.part
        gone = without | {name for name, c in part.curves.items()
                          if not without.isdisjoint(c.points)}
        left = part.having(
            curves={n: c for n, c in part.curves.items() if n not in gone},
            points={n: at for n, at in part.points.items() if n not in gone},
            bindings={n: b for n, b in part.bindings.items() if gone.isdisjoint(b.of)})
        system = System(left)
        return freedoms(system, system.x0).count

    def is_idle(self, binding: Binding) -> bool:
        """Tell whether a dimension names layout that determines nothing."""
        return not self.idle.isdisjoint(binding.of)
