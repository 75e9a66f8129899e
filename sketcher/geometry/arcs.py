"""Arcs and circles from what a drawing gives: points, a radius, a direction, a bulge."""

from __future__ import annotations

from math import hypot, sqrt, tan

from sketcher.errors import GeometryError
from sketcher.geometry.curves import XY, Arc, Circle


def circle_through(a: XY, b: XY, c: XY) -> Circle:
    """Return the circle through three points.

    Parameters
    ----------
    a, b, c : (float, float)
        In one unit.

    Returns
    -------
    Circle

    Raises
    ------
    GeometryError
        When the points are in line, or two of them agree.
    """
    bx, by, cx, cy = b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]
    doubled = 2.0 * (bx * cy - by * cx)
    reach = max(hypot(bx, by), hypot(cx, cy))
    if abs(doubled) <= 1e-13 * reach * reach:
        raise GeometryError(
            "points", "are in line and lie on no circle", "take three points that are not in line"
        )
    bb, cc = bx * bx + by * by, cx * cx + cy * cy
    x, y = (cy * bb - by * cc) / doubled, (bx * cc - cx * bb) / doubled
    return Circle((a[0] + x, a[1] + y), hypot(x, y))


def arc_through(start: XY, middle: XY, end: XY) -> Arc:
    """Return the arc from `start` through `middle` to `end`.

    Parameters
    ----------
    start, middle, end : (float, float)
        In one unit.

    Returns
    -------
    Arc

    Raises
    ------
    GeometryError
        When the points are in line, or two of them agree.
    """
    ring = circle_through(start, middle, end)
    turn = (middle[0] - start[0]) * (end[1] - start[1]) - (middle[1] - start[1]) * (
        end[0] - start[0]
    )
    return Arc(ring.center, start, end, turn > 0.0)


def arc_of_radius(
    start: XY, end: XY, radius: float, ccw: bool = True, long_way: bool = False
) -> Arc:
    """Return the arc of a radius between two ends: the short way round, or the long way.

    Parameters
    ----------
    start, end : (float, float)
        In one unit.
    radius : float
        In that unit.
    ccw : bool
        Whether it turns counter-clockwise from `start` to `end`.
    long_way : bool
        True for a sweep of half a turn or more.

    Returns
    -------
    Arc

    Raises
    ------
    GeometryError
        When the ends agree or lie further apart than the diameter.
    """
    dx, dy = end[0] - start[0], end[1] - start[1]
    chord = hypot(dx, dy)
    if chord == 0.0:
        raise GeometryError("ends", "of the arc are the same point", "take two different ends")
    square = (radius - 0.5 * chord) * (radius + 0.5 * chord)
    if square < -1e-14 * chord * chord or radius <= 0.0:
        raise GeometryError(
            "radius",
            f"{radius:g} does not span the chord of {chord:g}",
            f"give at least {0.5 * chord:g}",
        )
    height = sqrt(max(0.0, square)) / chord
    if ccw == long_way:
        height = -height
    center = (start[0] + 0.5 * dx - height * dy, start[1] + 0.5 * dy + height * dx)
    return Arc(center, start, end, ccw)


def arc_from_tangent(start: XY, direction: XY, end: XY) -> Arc:
    """Return the arc that leaves `start` in a direction and ends at `end`.

    Parameters
    ----------
    start, end : (float, float)
        In one unit.
    direction : (float, float)
        Of any length but zero.

    Returns
    -------
    Arc

    Raises
    ------
    GeometryError
        When `end` lies straight ahead, straight behind, or at the start.
    """
    dx, dy = end[0] - start[0], end[1] - start[1]
    nx, ny = -direction[1], direction[0]
    across, chord = dx * nx + dy * ny, hypot(dx, dy)
    if abs(across) <= 1e-13 * chord * hypot(nx, ny):
        raise GeometryError(
            "end", "lies on the tangent line, where no arc leads", "take a point beside it"
        )
    k = 0.5 * chord * chord / across
    return Arc((start[0] + k * nx, start[1] + k * ny), start, end, across > 0.0)


def bulge(arc: Arc) -> float:
    """Return the tangent of a quarter of the signed sweep (DXF reference, LWPOLYLINE, code 42)."""
    return tan(0.25 * arc.sweep)
