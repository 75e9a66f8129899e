"""How far two curves are from tangency, as a length and as an angle.

Both curves are taken as carriers, that is as the unbounded line and the full circle. The length is

- line and arc: ``|distance(center, line) - radius|``;
- two arcs: ``|distance of the centers - (r1 + r2)|`` or ``|... - |r1 - r2||``, whichever sense the
  curves have;
- two lines: how far the far end of the shorter one lies off the longer one.
"""

from __future__ import annotations

from math import acos, dist, pi

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line


def residual(a: Curve, b: Curve) -> float:
    """Return the signed length by which the carriers miss tangency, in the curves' unit.

    Positive when they stay apart by that length, negative when they overlap by it; for two lines
    the offset has no sign.
    """
    if isinstance(a, Line) and isinstance(b, Line):
        return _line_line(a, b)
    if isinstance(a, Line):
        return _center_offset(a, b) - _radius(b)
    if isinstance(b, Line):
        return _center_offset(b, a) - _radius(a)
    distance, total, difference = _centers(a, b)
    if internal(a, b):
        return difference - distance
    return distance - total


def internal(a: Arc | Circle, b: Arc | Circle) -> bool:
    """Tell whether two round curves are nearer to touching from inside than from outside."""
    distance, total, difference = _centers(a, b)
    return abs(distance - difference) < abs(distance - total)


def angle(a: Curve, b: Curve) -> float:
    """Return the angle in [0, pi/2] at which the carriers cross; 0 where they do not."""
    if isinstance(a, Line) and isinstance(b, Line):
        (ax, ay), (bx, by) = a.direction, b.direction
        return acos(min(1.0, abs(ax * bx + ay * by)))
    if isinstance(a, Line):
        radius = _radius(b)
        return acos(min(1.0, _center_offset(a, b) / radius)) if radius else 0.0
    if isinstance(b, Line):
        return angle(b, a)
    distance, total, difference = _centers(a, b)
    if not difference < distance < total:
        return 0.0
    r1, r2 = _radius(a), _radius(b)
    cosine = (r1 * r1 + r2 * r2 - distance * distance) / (2.0 * r1 * r2)
    between = acos(max(-1.0, min(1.0, cosine)))
    return min(between, pi - between)


def place(a: Curve, b: Curve) -> XY:
    """Return where the carriers touch, or the middle of the narrowest place between them."""
    if isinstance(a, Line) and isinstance(b, Line):
        return b.start if dist(b.start, a.end) < dist(b.end, a.end) else b.end
    if isinstance(a, Line):
        return _line_place(a, b)
    return _line_place(b, a) if isinstance(b, Line) else _round_place(a, b)


def _line_place(line: Line, arc: Curve) -> XY:
    (x0, y0), (dx, dy), (cx, cy) = line.start, line.direction, _center(arc)
    along = (cx - x0) * dx + (cy - y0) * dy
    foot = (x0 + along * dx, y0 + along * dy)
    away = dist(foot, (cx, cy))
    if away == 0.0:
        return foot
    on_arc = 0.5 * (1.0 + _radius(arc) / away)
    return (cx + (foot[0] - cx) * on_arc, cy + (foot[1] - cy) * on_arc)


def _round_place(a: Arc | Circle, b: Arc | Circle) -> XY:
    # The direction is taken from the bigger circle's center through the smaller one's: from inside
    # and from outside the touch lies that way.
    big, small = (a, b) if a.radius >= b.radius else (b, a)
    (bx, by), (sx, sy) = big.center, small.center
    away = dist(big.center, small.center)
    if away == 0.0:
        return (bx + 0.5 * (big.radius + small.radius), by)
    ux, uy = (sx - bx) / away, (sy - by) / away
    reach = away + small.radius if internal(a, b) else away - small.radius
    middle = 0.5 * (big.radius + reach)
    return (bx + ux * middle, by + uy * middle)


def _line_line(a: Line, b: Line) -> float:
    longer, shorter = (a, b) if a.length >= b.length else (b, a)
    (x0, y0), (dx, dy) = longer.start, longer.direction
    offsets = (abs((p[1] - y0) * dx - (p[0] - x0) * dy) for p in (shorter.start, shorter.end))
    return max(offsets)


def _center_offset(line: Line, arc: Curve) -> float:
    (x0, y0), (dx, dy), (cx, cy) = line.start, line.direction, _center(arc)
    return abs((cy - y0) * dx - (cx - x0) * dy)


def _centers(a: Arc | Circle, b: Arc | Circle) -> tuple[float, float, float]:
    """Distance of the centers, sum and difference of the radii."""
    return dist(a.center, b.center), a.radius + b.radius, abs(a.radius - b.radius)



def _center(curve: Curve) -> XY:
    assert not isinstance(curve, Line)
    return curve.center


def _radius(curve: Curve) -> float:
    assert not isinstance(curve, Line)
    return curve.radius
