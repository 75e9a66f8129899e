"""Where a curve is, which way it goes, and the same curve elsewhere.

A parameter runs from 0 at the start to 1 at the end, evenly by length. A circle starts at the point
in the positive x direction from its center and runs counter-clockwise.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import pairwise
from math import atan2, cos, dist, hypot, sin, tau
from typing import TypeVar

from sketcher.errors import GeometryError
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.vectors import normalized

_ONE = 1e-12
"""Parameters nearer than this are one: rounding of an angle could turn their order round."""

C = TypeVar("C", Line, Arc, Circle, Line | Arc, Curve)


def point_at(curve: Curve, t: float) -> XY:
    """Return the point at parameter `t`; beyond 0 to 1 the carrying line or circle goes on.

    At 0 and 1 the stored ends of a line or an arc come back bit by bit.
    """
    if isinstance(curve, Circle):
        angle = t * tau
        return (
            curve.center[0] + curve.radius * cos(angle),
            curve.center[1] + curve.radius * sin(angle),
        )
    if t == 0.0:
        return curve.start
    if t == 1.0:
        return curve.end
    if isinstance(curve, Line):
        (x0, y0), (x1, y1) = curve.start, curve.end
        return (x0 + t * (x1 - x0), y0 + t * (y1 - y0))
    angle = curve.start_angle + t * curve.sweep
    return (
        curve.center[0] + curve.radius * cos(angle),
        curve.center[1] + curve.radius * sin(angle),
    )


def start_of(curve: Curve) -> XY:
    """Return the point where the curve starts."""
    return point_at(curve, 0.0)


def end_of(curve: Curve) -> XY:
    """Return the point where the curve ends; for a circle that is its start."""
    return point_at(curve, 1.0) if not isinstance(curve, Circle) else point_at(curve, 0.0)


def midpoint(curve: Curve) -> XY:
    """Return the point half way along the curve."""
    return point_at(curve, 0.5)


def tangent_at(curve: Curve, t: float) -> XY:
    """Return the unit direction of travel at parameter `t`; (0, 0) for a line without length."""
    if isinstance(curve, Line):
        return curve.direction
    if isinstance(curve, Circle):
        angle = t * tau
        return (-sin(angle), cos(angle))
    cx, cy = curve.center
    if t in (0.0, 1.0):
        x, y = curve.end if t else curve.start
        ux, uy = normalized((x - cx, y - cy))
    else:
        angle = curve.start_angle + t * curve.sweep
        ux, uy = cos(angle), sin(angle)
    return (-uy, ux) if curve.ccw else (uy, -ux)


def direction_at(curve: Curve, point: XY) -> XY:
    """Return the unit direction of travel at the place of the curve nearest `point`."""
    if isinstance(curve, Line):
        return curve.direction
    dx, dy = point[0] - curve.center[0], point[1] - curve.center[1]
    ux, uy = normalized((dx, dy))
    return (uy, -ux) if isinstance(curve, Arc) and not curve.ccw else (-uy, ux)


def turn(before: XY, after: XY) -> float:
    """Return the signed angle in (-pi, pi] from direction `before` to direction `after`."""
    return atan2(
        before[0] * after[1] - before[1] * after[0], before[0] * after[0] + before[1] * after[1]
    )


def joint_angle(a: Curve, b: Curve, at: XY) -> float:
    """Return the break of direction in [0, pi] where two curves meet end to end near `at`.

    Zero is a smooth passage from one curve into the other, pi a fold straight back. Each curve is
    taken at that of its ends which lies nearer `at`, whichever way it runs.

    Parameters
    ----------
    a, b : Curve
        In one unit.
    at : (float, float)
        About where they meet, in that unit.

    Returns
    -------
    float
        Radians.
    """
    out_a, out_b = _outward(a, at), _outward(b, at)
    return abs(turn((-out_a[0], -out_a[1]), out_b))


def angle_between(a: Curve, b: Curve) -> float:
    """Return the signed turn in (-pi, pi] from the end of `a` to the start of `b`."""
    return turn(tangent_at(a, 1.0), tangent_at(b, 0.0))


def _outward(curve: Curve, at: XY) -> XY:
    """Unit direction that leaves the end nearer `at` and runs into the curve."""
    if dist(start_of(curve), at) <= dist(end_of(curve), at):
        return tangent_at(curve, 0.0)
    x, y = tangent_at(curve, 1.0)
    return (-x, -y)


def reversed_curve(curve: C) -> C:
    """Return the curve travelled the other way; a circle has no end and stays as it is."""
    if isinstance(curve, Line):
        return Line(curve.end, curve.start)
    if isinstance(curve, Arc):
        return Arc(curve.center, curve.end, curve.start, not curve.ccw)
    return curve


def travelled_as(line: Line, other: Line) -> Line:
    """Return a line travelled the way of another, less than a right angle off it."""
    (ax, ay), (bx, by) = line.start, line.end
    (cx, cy), (dx, dy) = other.start, other.end
    return reversed_curve(line) if (bx - ax) * (dx - cx) + (by - ay) * (dy - cy) < 0.0 else line


def moved(curve: C, dx: float, dy: float) -> C:
    """Return the curve moved by (`dx`, `dy`).

    Parameters
    ----------
    curve : Curve
    dx, dy : float
        In the curve's unit, y up.

    Returns
    -------
    Curve
        Of the same kind, travelled the same way.
    """
    return _mapped(curve, 1.0, 0.0, dx, dy)


def scaled(curve: C, factor: float, about: XY = (0.0, 0.0)) -> C:
    """Return the curve scaled by a `factor` above zero about a point.

    Parameters
    ----------
    curve : Curve
    factor : float
        Ratio of lengths.
    about : (float, float)
        What stays in its place, in the curve's unit.

    Returns
    -------
    Curve
        Of the same kind, travelled the same way.

    Raises
    ------
    GeometryError
        When the factor is not above zero.
    """
    if not factor > 0.0:
        raise GeometryError("factor", f"{factor:g} is not above zero", "give a positive factor")
    return _mapped(curve, factor, 0.0, about[0] * (1.0 - factor), about[1] * (1.0 - factor))


def reflected_point(point: XY, axis: Line) -> XY:
    """Return the mirror image of a point about the unbounded line of `axis`."""
    (x0, y0), (x1, y1) = axis.start, axis.end
    dx, dy = x1 - x0, y1 - y0
    square = dx * dx + dy * dy
    if square == 0.0:
        raise GeometryError("axis", "has no length", "give an axis with two different ends")
    # Along the normal by twice the distance, so that points on the axis stay to the last bit.
    twice = 2.0 * (dx * (point[1] - y0) - dy * (point[0] - x0)) / square
    return (point[0] + twice * dy, point[1] - twice * dx)


def reflected(curve: C, axis: Line) -> C:
    """Return the mirror image about the unbounded line of `axis`; start stays start."""
    if isinstance(curve, Line):
        return Line(reflected_point(curve.start, axis), reflected_point(curve.end, axis))
    if isinstance(curve, Arc):
        center, start, end = (
            reflected_point(p, axis) for p in (curve.center, curve.start, curve.end)
        )
        return Arc(center, start, end, not curve.ccw)
    return Circle(reflected_point(curve.center, axis), curve.radius)


def _mapped(curve: C, c: float, s: float, dx: float, dy: float) -> C:
    """Apply x' = c x - s y + dx, y' = s x + c y + dy: a turn, a scale and a move."""

    def at(p: XY) -> XY:
        return (c * p[0] - s * p[1] + dx, s * p[0] + c * p[1] + dy)

    if isinstance(curve, Line):
        return Line(at(curve.start), at(curve.end))
    if isinstance(curve, Arc):
        return Arc(at(curve.center), at(curve.start), at(curve.end), curve.ccw)
    return Circle(at(curve.center), curve.radius * hypot(c, s))


def piece(curve: Curve, t0: float, t1: float) -> Line | Arc:
    """Return the part between two parameters, travelled from `t0` to `t1`.

    A part of a circle is an arc; `t1` less than `t0` runs the other way round.

    Parameters
    ----------
    curve : Curve
    t0, t1 : float
        Parameters, by length from 0 at the start to 1 at the end; beyond them the curve is
        extended.

    Returns
    -------
    Line or Arc
        A line from a line, else an arc.

    Raises
    ------
    GeometryError
        When the two parameters are one: an arc between equal ends would go all the way round.
    """
    if abs(t1 - t0) <= _ONE:
        raise GeometryError("piece", "has no length", "cut at two different places")
    start, end = point_at(curve, t0), point_at(curve, t1)
    if isinstance(curve, Line):
        return Line(start, end)
    forward = isinstance(curve, Circle) or curve.ccw
    return Arc(curve.center, start, end, forward == (t1 >= t0))


def split(curve: Curve, parameters: Iterable[float]) -> tuple[Line | Arc, ...]:
    """Return the pieces between the given parameters, in the direction of travel.

    A circle split at n places gives n arcs, the last one across its start. Places that rounding
    cannot tell apart count once.
    """
    wanted = {float(t) for t in parameters}
    inner: list[float] = []
    for t in sorted(wanted):
        if _ONE < t < 1.0 - _ONE and (not inner or t - inner[-1] > _ONE):
            inner.append(t)
    if isinstance(curve, Circle):
        inner = [0.0, *inner] if wanted & {0.0, 1.0} else inner
        points = [point_at(curve, t) for t in inner]
        following = [*points[1:], *points[:1]]
        return tuple(
            Arc(curve.center, p, q) for p, q in zip(points, following, strict=True)
        )
    if not inner:
        return (curve,)
    return tuple(piece(curve, t0, t1) for t0, t1 in pairwise([0.0, *inner, 1.0]))


def carried(curve: Curve, at: Callable[[XY], XY]) -> Curve:
    """Return a curve whose points a turn and a move, `at`, take elsewhere."""
    if isinstance(curve, Line):
        return Line(at(curve.start), at(curve.end))
    if isinstance(curve, Circle):
        return Circle(at(curve.center), curve.radius)
    return Arc(at(curve.center), at(curve.start), at(curve.end), curve.ccw)
