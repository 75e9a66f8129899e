"""Exact area, perimeter, centroid and second moments of what loops of lines and arcs enclose.

Green's theorem: a loop is the polygon of its ends plus a circular segment for each arc, and both
have closed forms (Machinery's Handbook 31, p. 83 for the segment's area; segment moments by
integration of r^4/4, see any statics text).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import cos, pi, sin
from typing import TypeAlias

from sketcher.errors import GeometryError
from sketcher.geometry.curves import XY, Arc, Circle, Curve

_Sums: TypeAlias = tuple[float, float, float, float, float, float]
"""Integrals over the area of 1, x, y, x x, y y, x y."""


@dataclass(frozen=True, slots=True)
class Moments:
    """Properties of a plane area.

    Parameters
    ----------
    area : float
        In square units, positive.
    perimeter : float
        Length of all boundaries, holes included.
    centroid : point
        Center of area.
    central : tuple of float
        Second moments Ix, Iy, Ixy about level and plumb axes through the centroid, in unit^4:
        integrals of y y, x x and x y.
    """

    area: float
    perimeter: float
    centroid: XY
    central: tuple[float, float, float]

    def about(self, point: XY) -> tuple[float, float, float]:
        """Return Ix, Iy, Ixy about level and plumb axes through `point`."""
        x, y = self.centroid[0] - point[0], self.centroid[1] - point[1]
        ix, iy, ixy = self.central
        return (ix + self.area * y * y, iy + self.area * x * x, ixy + self.area * x * y)

    @property
    def ix(self) -> float:
        """Second moment about the x axis."""
        return self.about((0.0, 0.0))[0]

    @property
    def iy(self) -> float:
        """Second moment about the y axis."""
        return self.about((0.0, 0.0))[1]

    @property
    def ixy(self) -> float:
        """Product moment about the origin."""
        return self.about((0.0, 0.0))[2]

    @property
    def polar(self) -> float:
        """Polar second moment about the centroid."""
        return self.central[0] + self.central[1]

def signed_area(curves: Iterable[Curve]) -> float:
    """Return the area that a closed run of curves goes round, positive counter-clockwise."""
    curves = tuple(curves)
    return _sums(curves, _reference(curves))[0] if curves else 0.0


def section(loops: Iterable[tuple[Iterable[Curve], bool]]) -> Moments:
    """Return the moments of an area with holes.

    Parameters
    ----------
    loops : iterable of (curves, hole)
        Closed runs of curves, head to tail; `hole` marks those that are taken away.

    Raises
    ------
    GeometryError
        When nothing is left.
    """
    runs = [(tuple(curves), hole) for curves, hole in loops]
    runs = [(curves, hole) for curves, hole in runs if curves]
    if not runs:
        raise GeometryError("profile", "has no closed loop and so no area")
    # From a place on the part itself: sums from a far origin would lose digits.
    origin = _reference(runs[0][0])
    total = [0.0] * 6
    for curves, hole in runs:
        sums = _sums(curves, origin)
        sign = -1.0 if (sums[0] < 0.0) != hole else 1.0
        total = [t + sign * s for t, s in zip(total, sums, strict=True)]
    area, mx, my, xx, yy, xy = total
    if not area > 0.0:
        raise GeometryError("profile", "encloses no area", "check its loops and holes")
    gx, gy = mx / area, my / area
    central = (yy - gy * my, xx - gx * mx, xy - gx * my)
    perimeter = sum(c.length for curves, _ in runs for c in curves)
    return Moments(area, perimeter, (origin[0] + gx, origin[1] + gy), central)


def _reference(curves: tuple[Curve, ...]) -> XY:
    first = curves[0]
    return first.center if isinstance(first, Circle) else first.start


def _sums(curves: Iterable[Curve], origin: XY) -> _Sums:
    """Signed integrals over what the curves go round, with `origin` as zero."""
    ox, oy = origin
    a = mx = my = xx = yy = xy = 0.0
    for curve in curves:
        if isinstance(curve, Circle):
            parts = [_segment(curve.center[0] - ox, curve.center[1] - oy, curve.radius, pi, 0.0)]
        else:
            (x0, y0), (x1, y1) = curve.start, curve.end
            parts = [_triangle(x0 - ox, y0 - oy, x1 - ox, y1 - oy)]
            if isinstance(curve, Arc):
                half = 0.5 * curve.sweep
                cx, cy = curve.center[0] - ox, curve.center[1] - oy
                parts.append(_segment(cx, cy, curve.radius, half, curve.start_angle + half))
        for part in parts:
            a, mx, my = a + part[0], mx + part[1], my + part[2]
            xx, yy, xy = xx + part[3], yy + part[4], xy + part[5]
    return (a, mx, my, xx, yy, xy)


def _triangle(x0: float, y0: float, x1: float, y1: float) -> _Sums:
    """Signed integrals over the triangle of the origin and two points."""
    cross = x0 * y1 - x1 * y0
    return (
        cross / 2.0,
        cross * (x0 + x1) / 6.0,
        cross * (y0 + y1) / 6.0,
        cross * (x0 * x0 + x0 * x1 + x1 * x1) / 12.0,
        cross * (y0 * y0 + y0 * y1 + y1 * y1) / 12.0,
        cross * (x0 * y1 + 2.0 * (x0 * y0 + x1 * y1) + x1 * y0) / 24.0,
    )


def _segment(cx: float, cy: float, radius: float, half: float, bisector: float) -> _Sums:
    """Signed integrals over a circular segment of half angle `half` (negative when clockwise)."""
    s, c = sin(half), cos(half)
    flat = 0.5 * _minus_sine(2.0 * half)  # half - s c
    a = radius * radius * flat
    u = 2.0 / 3.0 * (radius * s) ** 3
    quarter = 0.25 * radius**4
    uu, vv = quarter * (flat + 2.0 * s**3 * c), quarter * (flat - 2.0 / 3.0 * s**3 * c)
    cb, sb = cos(bisector), sin(bisector)
    mx, my = u * cb, u * sb
    return (
        a,
        mx + a * cx,
        my + a * cy,
        uu * cb * cb + vv * sb * sb + 2.0 * cx * mx + a * cx * cx,
        uu * sb * sb + vv * cb * cb + 2.0 * cy * my + a * cy * cy,
        (uu - vv) * cb * sb + cx * my + cy * mx + a * cx * cy,
    )


def _minus_sine(x: float) -> float:
    """Return x - sin(x) without cancellation for small x."""
    if abs(x) > 0.7:
        return x - sin(x)
    square, term, total = x * x, x**3 / 6.0, 0.0
    for n in range(4, 22, 2):
        total += term
        term *= -square / (n * (n + 1))
    return total
