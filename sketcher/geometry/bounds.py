"""Exact bounding boxes, and the tolerance that goes with a size."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, floor, inf, pi
from typing import TypeAlias

from sketcher.errors import GeometryError
from sketcher.geometry.curves import Circle, Curve, Line

Box: TypeAlias = tuple[float, float, float, float]

RELATIVE = 1e-9
"""Lengths below this part of the size of what is looked at count as nothing.

A thousandth of what the finest machine resolves on a plate of a metre, and a million times the
rounding of doubles of that size.
"""


def bounds(curve: Curve) -> Box:
    """Return the exact box (x0, y0, x1, y1) of a curve; arcs with the quadrants they pass."""
    if isinstance(curve, Circle):
        (x, y), r = curve.center, curve.radius
        return (x - r, y - r, x + r, y + r)
    (xa, ya), (xb, yb) = curve.start, curve.end
    x0, y0, x1, y1 = min(xa, xb), min(ya, yb), max(xa, xb), max(ya, yb)
    if isinstance(curve, Line):
        return (x0, y0, x1, y1)
    low = curve.start_angle + min(curve.sweep, 0.0)
    high = curve.start_angle + max(curve.sweep, 0.0)
    (cx, cy), r = curve.center, curve.radius
    for quarter in range(ceil(low / (0.5 * pi)), floor(high / (0.5 * pi)) + 1):
        match quarter % 4:
            case 0:
                x1 = max(x1, cx + r)
            case 1:
                y1 = max(y1, cy + r)
            case 2:
                x0 = min(x0, cx - r)
            case _:
                y0 = min(y0, cy - r)
    return (x0, y0, x1, y1)


def bounds_of(curves: Iterable[Curve]) -> Box:
    """Return the box around all curves.

    Raises
    ------
    GeometryError
        When there is no curve.
    """
    x0 = y0 = inf
    x1 = y1 = -inf
    for curve in curves:
        a, b, c, d = bounds(curve)
        x0, y0, x1, y1 = min(x0, a), min(y0, b), max(x1, c), max(y1, d)
    if x0 > x1:
        raise GeometryError("curves", "there is none, and so no bounding box")
    return (x0, y0, x1, y1)


def boxes_meet(a: Box, b: Box) -> bool:
    """Tell whether two boxes have a place in common, their edges included."""
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]


def box_within(box: Box, around: Box) -> bool:
    """Tell whether a box lies in another, edges on edges included."""
    return (around[0] <= box[0] and around[1] <= box[1]
            and box[2] <= around[2] and box[3] <= around[3])


def size_of(curves: Iterable[Curve]) -> float:
    """Return the longer side of the box around all curves; 0 when there is none."""
    curves = tuple(curves)
    if not curves:
        return 0.0
    x0, y0, x1, y1 = bounds_of(curves)
    return max(x1 - x0, y1 - y0)


def extent(curve: Curve) -> float:
    """Return a line's length or a round curve's radius, however it is signed."""
    return curve.length if isinstance(curve, Line) else abs(curve.radius)


def tolerance(curves: Iterable[Curve], relative: float = RELATIVE) -> float:
    """Return `relative` times the size, or what the coordinates resolve where that is more."""
    curves = tuple(curves)
    if not curves:
        return 0.0
    x0, y0, x1, y1 = bounds_of(curves)
    # 64 units in the last place: what a few sums and a square root lose far from the origin.
    far = max(abs(x0), abs(y0), abs(x1), abs(y1))
    return max(relative * max(x1 - x0, y1 - y0), 64.0 * 2.220446049250313e-16 * far)
