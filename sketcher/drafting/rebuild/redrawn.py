"""The fresh part while it is drawn anew from the paper: plain tables that only grow."""

from __future__ import annotations

from dataclasses import dataclass, field

from sketcher.geometry.curves import XY
from sketcher.part.value import (
    ArcCurve,
    Binding,
    CircleCurve,
    LineCurve,
    Part,
    PartCurve,
    Role,
    Unit,
)
from sketcher.quantity.format import exact


@dataclass(slots=True)
class Redrawn:
    """Points, curves and bindings read from a sheet, in the sheet's unit.

    Parameters
    ----------
    unit : {"mm", "in"}
    tol : float
        DrawnPlaces nearer than this are one to the eye.
    points, curves, bindings : dict
        As in `Part`.
    said_by : dict of str to str
        For each binding that a dimension says: the dimension's id.
    names : dict of str to str
        For each outline curve the name of the stroke that it was read from, for what is told.
    """

    unit: Unit
    tol: float
    points: dict[str, XY] = field(default_factory=dict)
    curves: dict[str, PartCurve] = field(default_factory=dict)
    bindings: dict[str, Binding] = field(default_factory=dict)
    said_by: dict[str, str] = field(default_factory=dict)
    names: dict[str, str] = field(default_factory=dict)
    _lines: dict[frozenset[str], str] = field(default_factory=dict)
    _known: set[tuple[str, tuple[str, ...], str | None]] = field(default_factory=set)

    def point(self, at: XY) -> str:
        """Add a point."""
        name = f"p{len(self.points) + 1}"
        self.points[name] = at
        return name

    def line(self, start: str, end: str, role: Role = "layout") -> str:
        """Add a line; the very same line is not drawn twice."""
        if role == "outline":
            return self._curve(LineCurve((start, end), role))
        ends = frozenset((start, end))
        if ends not in self._lines:
            self._lines[ends] = self._curve(LineCurve((start, end), role))
        return self._lines[ends]

    def circle(self, center: str, radius: float, role: Role = "layout") -> str:
        """Add a circle."""
        return self._curve(CircleCurve(center, radius, role))

    def arc(self, start: str, end: str, center: str, ccw: bool) -> str:
        """Add an arc of the outline."""
        return self._curve(ArcCurve((start, end), center, "ccw" if ccw else "cw"))

    def _curve(self, curve: PartCurve) -> str:
        name = f"c{len(self.curves) + 1}"
        self.curves[name] = curve
        return name

    def bind(self, kind: str, *of: str, value: float | None = None, said_by: str = "") -> None:
        """Add a binding; one that is there already is not said twice."""
        text = None if value is None else exact(value)
        if len(set(of)) < len(of) or (kind, of, text) in self._known:
            return
        self._known.add((kind, of, text))
        name = f"b{len(self.bindings) + 1}"
        self.bindings[name] = Binding(kind, of, text)
        if said_by:
            self.said_by[name] = said_by

    def part(self) -> Part:
        """Return what there is as a part."""
        return Part("redrawn", self.unit).having(
            points=dict(self.points), curves=dict(self.curves), bindings=dict(self.bindings))
