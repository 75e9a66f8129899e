"""The place on a curve nearest to a point, and how far it is."""

from __future__ import annotations

from math import atan2, dist, tau
from typing import NamedTuple

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import point_at


class Nearest(NamedTuple):
    """A place on a curve: point, parameter, and distance from the point that was asked about."""

    point: XY
    parameter: float
    distance: float


def parameter_at(curve: Curve, point: XY) -> float:
    """Return the parameter of the foot of `point` on the unbounded curve.

    For an arc, a point outside its sweep gets a parameter below 0 or above 1, whichever end is
    nearer round the circle; for a circle the parameter is in [0, 1). A line without length gives 0.
    """
    if isinstance(curve, Line):
        (x0, y0), (x1, y1) = curve.start, curve.end
        dx, dy = x1 - x0, y1 - y0
        square = dx * dx + dy * dy
        return ((point[0] - x0) * dx + (point[1] - y0) * dy) / square if square else 0.0
    angle = atan2(point[1] - curve.center[1], point[0] - curve.center[0])
    if isinstance(curve, Circle):
        return (angle / tau) % 1.0
    along = (angle - curve.start_angle) % tau
    if curve.sweep < 0.0:
        along = tau - along if along else 0.0
    sweep = abs(curve.sweep)
    if along > 0.5 * (tau + sweep):
        along -= tau
    return along / sweep


def nearest(curve: Curve, point: XY, bounded: bool = True) -> Nearest:
    """Return the nearest place on the curve, or with ``bounded=False`` on its unbounded carrier.

    Parameters
    ----------
    curve : Curve
        Line, arc or circle, in any unit of length.
    point : (float, float)
        In the curve's unit.
    bounded : bool
        False takes a line as unbounded and an arc as its full circle.

    Returns
    -------
    Nearest
        `parameter` is 0 to 1 on a bounded curve and may lie outside on a carrier; `distance` is in
        the curve's unit, never negative.
    """
    t = parameter_at(curve, point)
    if bounded and not isinstance(curve, Circle):
        if isinstance(curve, Arc) and not 0.0 <= t <= 1.0:
            # Off the sweep the nearer end wins, by straight distance: an end can be nearer than
            # the angle says when the point lies close to the center.
            start, end = (dist(p, point) for p in (curve.start, curve.end))
            t = 0.0 if start <= end else 1.0
        t = min(1.0, max(0.0, t))
    at = point_at(curve, t)
    return Nearest(at, t, dist(point, at))


def distance(curve: Curve, point: XY, bounded: bool = True) -> float:
    """Return the distance of `point` from the curve, or from its unbounded carrier.

    Parameters
    ----------
    curve : Curve
        Line, arc or circle, in any unit of length.
    point : (float, float)
        In the curve's unit.
    bounded : bool
        False takes a line as unbounded and an arc as its full circle.

    Returns
    -------
    float
        In the curve's unit, never negative.
    """
    if not bounded or isinstance(curve, Circle):
        return abs(signed_distance(curve, point))
    if isinstance(curve, Arc) and 0.0 <= parameter_at(curve, point) <= 1.0:
        return abs(signed_distance(curve, point))
    return nearest(curve, point).distance


def signed_distance(curve: Curve, point: XY) -> float:
    """Return the distance from the unbounded carrier, positive on the left of the travel.

    A counter-clockwise arc and a circle have their inside on the left.
    """
    if isinstance(curve, Line):
        dx, dy = curve.direction
        if dx == dy == 0.0:
            return dist(point, curve.start)
        return (point[1] - curve.start[1]) * dx - (point[0] - curve.start[0]) * dy
    inward = curve.radius - dist(point, curve.center)
    return -inward if isinstance(curve, Arc) and not curve.ccw else inward


def in_sweep(arc: Arc, point: XY, tol: float = 0.0) -> bool:
    """Return whether the ray from the center to `point` meets the arc, ends included.

    `tol` is a length along the arc that is allowed beyond either end.

    Parameters
    ----------
    arc : Arc
    point : (float, float)
        In the arc's unit; how far it is from the center does not matter.
    tol : float
        Length along the arc, in its unit.
    """
    t = parameter_at(arc, point)
    slack = tol / arc.length if arc.length else 0.0
    return -slack <= t <= 1.0 + slack
