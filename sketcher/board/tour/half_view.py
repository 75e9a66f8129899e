"""What the tour looks at: the half as it is drawn, held and mirrored."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from math import hypot
from typing import Any

from sketcher.geometry.bounds import bounds_of, tolerance
from sketcher.geometry.curves import XY, Curve, Line
from sketcher.part.kinds import KINDS
from sketcher.part.value import ArcCurve, Binding, CircleCurve, LineCurve, Part
from sketcher.part.whole import half
from sketcher.solve.solve_report import SolveReport

SLACK = 1e3
"""Times the tolerance of the geometry: what is drawn by hand is never so near by chance."""


@dataclass(frozen=True)
class HalfView:
    """A part, what the solver says of it, and what was done with it.

    Parameters
    ----------
    part : Part
    report : SolveReport
    inspection : Inspection or None
        Of this part, where it has been made.
    deeds : frozenset of str
        What no part shows: ``mirrored``, ``inspected``, ``exported``.
    """

    part: Part
    report: SolveReport
    inspection: Any = None
    deeds: frozenset[str] = frozenset()

    @cached_property
    def shapes(self) -> dict[str, Curve]:
        """Geometry of every curve by id."""
        return half(self.part)

    @cached_property
    def slack(self) -> float:
        """Lengths below it count as none."""
        return SLACK * tolerance(self.shapes.values())

    @cached_property
    def outline(self) -> dict[str, Curve]:
        """Outline by id, holes included."""
        return {name: shape for name, shape in self.shapes.items()
                if self.part.curves[name].role == "outline"}

    @cached_property
    def edge(self) -> dict[str, Curve]:
        """Outline that has ends."""
        return {name: shape for name, shape in self.outline.items()
                if not isinstance(self.part.curves[name], CircleCurve)}

    @cached_property
    def axis(self) -> str:
        """The line that is mirrored about, or that will be: empty where there is none."""
        if self.part.mirrors:
            return self.part.mirrors[0].axis
        return next((name for name, curve in self.part.curves.items()
                     if curve.role == "axis" and isinstance(curve, LineCurve)), "")

    @property
    def stands(self) -> bool:
        """Whether the axis is plumb."""
        line = self.shapes[self.axis]
        assert isinstance(line, Line)
        return abs(line.end[0] - line.start[0]) <= self.slack

    @property
    def lies(self) -> bool:
        """Whether the axis is level."""
        line = self.shapes[self.axis]
        assert isinstance(line, Line)
        return abs(line.end[1] - line.start[1]) <= self.slack

    def from_axis(self, at: XY) -> float:
        """Return how far a place lies from the axis."""
        line = self.shapes[self.axis]
        assert isinstance(line, Line)
        (x0, y0), (x1, y1) = line.start, line.end
        dx, dy = x1 - x0, y1 - y0
        return abs(dx * (at[1] - y0) - dy * (at[0] - x0)) / (hypot(dx, dy) or 1.0)

    @cached_property
    def open_ends(self) -> tuple[str, ...]:
        """Points at which only one curve of the outline ends."""
        ends = Counter(point for name in self.edge
                       for point in self._ends(name))
        return tuple(point for point, count in ends.items() if count == 1)

    def _ends(self, name: str) -> tuple[str, ...]:
        curve = self.part.curves[name]
        return curve.ends if isinstance(curve, LineCurve | ArcCurve) else ()

    @property
    def along_axis(self) -> tuple[str, ...]:
        """Edges that lie on the axis."""
        at = self.part.points
        return tuple(name for name, shape in self.edge.items() if isinstance(shape, Line)
                     and all(self.from_axis(at[p]) <= self.slack for p in self._ends(name)))

    @cached_property
    def leaning(self) -> str:
        """The last straight edge that comes back to the axis and is not square to it, or empty."""
        if not self.axis:
            return ""
        line, found = self.shapes[self.axis], ""
        assert isinstance(line, Line)
        (ax, ay), open_ends = line.direction, set(self.open_ends)
        for name, shape in self.edge.items():
            if isinstance(shape, Line) and not open_ends.isdisjoint(self._ends(name)):
                along = (shape.end[0] - shape.start[0]) * ax + (shape.end[1] - shape.start[1]) * ay
                found = name if abs(along) > self.slack else found
        return found

    def straighten(self, name: str) -> str:
        """Say how an edge gets square to the axis."""
        return f"select it and press {KINDS['plumb' if self.lies else 'level'].label}"

    @cached_property
    def size(self) -> tuple[float, float]:
        """Size of the half across the axis, and along it; of a standing or a lying axis."""
        if not self.edge:
            return (0.0, 0.0)
        x0, y0, x1, y1 = bounds_of(self.edge.values())
        return (y1 - y0, x1 - x0) if self.lies and not self.stands else (x1 - x0, y1 - y0)

    @cached_property
    def driving(self) -> tuple[Binding, ...]:
        """Dimensions that drive."""
        return tuple(binding for binding in self.part.bindings.values()
                     if binding.drives and KINDS[binding.kind].quantity is not None)

    def has_length(self, value: float) -> bool:
        """Tell whether any length is held that could be this one, or a part of it."""
        return any(KINDS[b.kind].quantity == "length" and b.kind not in ("radius", "diameter")
                   for b in self.driving) and value > 0.0

    def round_held(self, name: str) -> bool:
        """Tell whether the radius of an arc or circle cannot change any more."""
        sized = any(b.kind in ("radius", "diameter", "equal") and name in b.of
                    for b in self.part.bindings.values())
        return sized and name not in self.loose

    @cached_property
    def loose(self) -> tuple[str, ...]:
        """Points, and circles by their radius, that can still move."""
        return tuple(each.point for each in self.report.loose)

    def holes(self) -> Iterator[str]:
        """Yield the ids of outline circles."""
        yield from (name for name in self.outline if name not in self.edge)

    def inside(self, name: str) -> bool:
        """Tell whether a hole lies within the box around the outline."""
        if not self.edge:
            return False
        x0, y0, x1, y1 = bounds_of(self.edge.values())
        a0, b0, a1, b1 = bounds_of([self.outline[name]])
        return x0 < a0 and y0 < b0 and a1 < x1 and b1 < y1
