"""Where the sign of a binding stands on the scene."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

from sketcher.geometry.curves import XY, Circle, Curve, Line
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
    return tuple(_on(curve_value(part, part.curves[name])) for name in curves)


def _on(curve: Curve) -> Stand:
    """Return where a sign stands beside a curve alone: at its middle, on a circle to the right."""
    if isinstance(curve, Circle):
        (x, y), radius = curve.center, curve.radius
        return (x + 0.8 * radius, y + 0.6 * radius), (0.8, 0.6)
    at = midpoint(curve)
    return at, _away(curve, at)


def _beside(part: Part, name: str) -> XY:
    """Return the direction from a curve at its middle to the sign."""
    curve = curve_value(part, part.curves[name])
    return _away(curve, midpoint(curve))


def _away(curve: Curve, middle: XY) -> XY:
    """Return the direction square to a curve at its middle, to its left, outward for rounds."""
    if isinstance(curve, Line):
        x, y = curve.direction
        return (-y, x) if (x, y) != (0.0, 0.0) else (0.0, 1.0)
    way = normalized((middle[0] - curve.center[0], middle[1] - curve.center[1]))
    return way if way != (0.0, 0.0) else (0.0, 1.0)
