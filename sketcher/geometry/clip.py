"""The visible pieces of a curve in a window: what a deep zoom draws instead of the whole."""

from __future__ import annotations

from itertools import pairwise
from math import acos, asin, pi, tau

from sketcher.geometry.bounds import Box, bounds
from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import piece, point_at


def visible(curve: Curve, window: Box) -> tuple[Curve, ...]:
    """Return the pieces of a curve inside a window (x0, y0, x1, y1), in the order of travel.

    A curve wholly inside comes back as it is.
    """
    x0, y0, x1, y1 = window
    a, b, c, d = bounds(curve)
    if a >= x0 and b >= y0 and c <= x1 and d <= y1:
        return (curve,)
    if a > x1 or b > y1 or c < x0 or d < y0:
        return ()
    if isinstance(curve, Line):
        return _clipped_line(curve, window)
    return _clipped_arc(curve, window)


def _clipped_line(line: Line, window: Box) -> tuple[Curve, ...]:
    """Liang and Barsky, ACM Transactions on Graphics 3 (1984) 1-22 (from memory)."""
    (xa, ya), (xb, yb) = line.start, line.end
    dx, dy = xb - xa, yb - ya
    x0, y0, x1, y1 = window
    enter, leave = 0.0, 1.0
    for step, room in ((-dx, xa - x0), (dx, x1 - xa), (-dy, ya - y0), (dy, y1 - ya)):
        if step == 0.0:
            if room < 0.0:
                return ()
        elif step < 0.0:
            enter = max(enter, room / step)
        else:
            leave = min(leave, room / step)
    return (piece(line, enter, leave),) if leave - enter > 1e-12 else ()


def _clipped_arc(curve: Arc | Circle, window: Box) -> tuple[Curve, ...]:
    x0, y0, x1, y1 = window
    (cx, cy), r = curve.center, curve.radius
    first, sweep = (0.0, tau) if isinstance(curve, Circle) else (curve.start_angle, curve.sweep)
    stops = {0.0, 1.0}
    for x in (x0, x1):
        if abs(x - cx) < r:
            a = acos((x - cx) / r)
            stops |= {_parameter(first, sweep, a), _parameter(first, sweep, -a)}
    for y in (y0, y1):
        if abs(y - cy) < r:
            a = asin((y - cy) / r)
            stops |= {_parameter(first, sweep, a), _parameter(first, sweep, pi - a)}
    spans: list[list[float]] = []
    for t0, t1 in pairwise(sorted(t for t in stops if 0.0 <= t <= 1.0)):
        if t1 - t0 <= 1e-12:
            continue
        x, y = point_at(curve, 0.5 * (t0 + t1))
        if x0 <= x <= x1 and y0 <= y <= y1:
            if spans and spans[-1][1] >= t0 - 1e-12:
                spans[-1][1] = t1
            else:
                spans.append([t0, t1])
    return tuple(piece(curve, t0, t1) for t0, t1 in spans)


def _parameter(first: float, sweep: float, angle: float) -> float:
    turn = (angle - first) % tau if sweep > 0.0 else -((first - angle) % tau)
    return turn / sweep
