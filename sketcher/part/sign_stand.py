"""Where the sign of a binding stands on the scene."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

from sketcher.geometry.curves import XY, Line
from sketcher.geometry.evaluate import midpoint
from sketcher.geometry.vectors import normalized
from sketcher.part.curve_questions import ends_of
from sketcher.part.value import Part
from sketcher.part.whole import curve_value

Stand: TypeAlias = tuple[XY, XY]
"""A place on the geometry in the part's unit, and the unit direction away from it to the sign."""


def stands(part: Part, of: Sequence[str]) -> tuple[Stand, ...]:
    """Return where the signs of a binding of these operands stand.

    At the shared point of a joint; else at the first point; else at the middle of each curve.
    """
    curves = [name for name in of if name in part.curves]
    points = [name for name in of if name in part.points]
    if len(curves) == 2 and not points:
        shared = set(ends_of(part.curves[curves[0]])) & set(ends_of(part.curves[curves[1]]))
        if len(shared) == 1:
            at = part.points[shared.pop()]
            return ((at, _beside(part, curves[0])),)
    if points:
        at = part.points[points[0]]
        return ((at, _beside(part, curves[0]) if curves else (0.6, -0.8)),)
    return tuple((midpoint(curve_value(part, part.curves[name])), _beside(part, name))
                 if part.curves[name].kind != "circle" else _on_circle(part, name)
                 for name in curves)


def _beside(part: Part, name: str) -> XY:
    """Return the direction square to a curve at its middle, to its left, outward for rounds."""
    curve = curve_value(part, part.curves[name])
    if isinstance(curve, Line):
        x, y = curve.direction
        return (-y, x) if (x, y) != (0.0, 0.0) else (0.0, 1.0)
    place = midpoint(curve)
    way = normalized((place[0] - curve.center[0], place[1] - curve.center[1]))
    return way if way != (0.0, 0.0) else (0.0, 1.0)


def _on_circle(part: Part, name: str) -> tuple[XY, XY]:
    curve = curve_value(part, part.curves[name])
    assert not isinstance(curve, Line)
    return (curve.center[0] + 0.8 * curve.radius, curve.center[1] + 0.6 * curve.radius), (0.8, 0.6)
