"""Where two curves meet, and where they lie on each other.

Everything is decided to one length `tol`, by default 1e-9 of the size of the two curves: two
places closer than that are one place, and a line that misses or cuts a circle by no more than that
touches it.
"""

from __future__ import annotations

from math import dist, hypot, sqrt, tau
from typing import Literal, NamedTuple, TypeAlias

from sketcher.geometry.bounds import tolerance
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import end_of, piece, start_of
from sketcher.geometry.project import distance, parameter_at

Kind: TypeAlias = Literal["crossing", "touch"]


class Meeting(NamedTuple):
    """A place where two curves meet.

    `a` and `b` are the parameters on the two curves, exactly 0 or 1 where an end is within
    tolerance; `kind` is ``"touch"`` where the carriers are tangent, else ``"crossing"``.
    """

    point: XY
    a: float
    b: float
    kind: Kind


class _Place(NamedTuple):
    """A common place of two carriers; `blur` is how far the tolerance shifts it along them."""

    x: float
    y: float
    kind: Kind
    blur: float


def meet(
    a: Curve, b: Curve, bounded: bool | tuple[bool, bool] = True, tol: float | None = None
) -> tuple[Meeting, ...]:
    """Return every isolated place where two curves meet, in the order along `a`.

    Parameters
    ----------
    a, b : Curve
        Any pair of line, arc and circle.
    bounded : bool or pair of bool
        False takes a line as unbounded and an arc as its full circle; a pair says it for each.
    tol : float, optional
        Length below which two places are one; 1e-9 of the size by default.

    Notes
    -----
    Curves that lie on each other share pieces, not places: see `overlap`. Of such a pair only ends
    that meet without a common piece are reported.
    """
    tol = tolerance((a, b)) if tol is None else tol
    bounds = (bounded, bounded) if isinstance(bounded, bool) else bounded
    shared = same_carrier(a, b, tol)
    found: list[Meeting] = []
    for place in () if shared else _places(a, b, tol):
        on_a = _within(a, place, bounds[0], tol)
        on_b = _within(b, place, bounds[1], tol)
        if on_a is not None and on_b is not None:
            point = _pin(a, b, (place.x, place.y), on_a, on_b)
            found.append(Meeting(point, on_a, on_b, place.kind))
    if not (shared and (overlap(a, b, tol) or not all(bounds))):
        _add_ends(found, a, b, bounds, tol)
    return tuple(sorted(found, key=lambda m: m.a))


def overlap(a: Curve, b: Curve, tol: float | None = None) -> tuple[Curve, ...]:
    """Return the pieces longer than `tol` that lie on both curves, travelled as `a` is.

    Two equal circles share a circle; two arcs of one circle may share two pieces.

    Parameters
    ----------
    a, b : Curve
        In one unit.
    tol : float, optional
        Length in that unit; 1e-9 of the size of both by default.

    Returns
    -------
    tuple of Curve
        In the order along `a`; empty where they share nothing or only places (see `meet`).
    """
    tol = tolerance((a, b)) if tol is None else tol
    if not same_carrier(a, b, tol) or not a.length or not b.length:
        return ()
    if isinstance(a, Circle) and isinstance(b, Circle):
        return (a,)
    if isinstance(a, Circle):
        return overlap(b, a, tol)
    slack = tol / a.length
    if isinstance(b, Circle):
        return (a,)
    s, e = parameter_at(a, b.start), parameter_at(a, b.end)
    if isinstance(a, Line) or isinstance(b, Line):
        spans = [(min(s, e), max(s, e))]
    else:
        # The second arc in turns of the first: from its first end onwards, in the sense of `a`.
        first = s if (a.sweep > 0.0) == (b.sweep > 0.0) else e
        width, turn = abs(b.sweep / a.sweep), tau / abs(a.sweep)
        first %= turn
        spans = [(first - turn, first - turn + width), (first, first + width)]
    cut = [(max(0.0, lo), min(1.0, hi)) for lo, hi in spans]
    return tuple(
        piece(a, lo if lo > slack else 0.0, hi if hi < 1.0 - slack else 1.0)
        for lo, hi in cut
        if hi - lo > slack
    )


def same_carrier(a: Curve, b: Curve, tol: float) -> bool:
    """Return whether the two curves run along one line or round one circle, within `tol`.

    Lines are measured at their ends: the ends of the shorter must lie within `tol` of the longer.

    Parameters
    ----------
    a, b : Curve
        In one unit; whether they reach each other does not matter.
    tol : float
        Length in that unit; for rounds the distance of the centers plus the difference of the
        radii.
    """
    if isinstance(a, Line):
        if not isinstance(b, Line):
            return False
        long, short = (a, b) if a.length >= b.length else (b, a)
        return all(distance(long, p, bounded=False) <= tol for p in (short.start, short.end))
    if isinstance(b, Line):
        return False
    apart = dist(a.center, b.center)
    return apart + abs(a.radius - b.radius) <= tol


def _places(a: Curve, b: Curve, tol: float) -> list[_Place]:
    if isinstance(a, Line):
        return _line_line(a, b, tol) if isinstance(b, Line) else _line_round(a, b, tol)
    return _line_round(b, a, tol) if isinstance(b, Line) else _round_round(a, b, tol)


def _line_line(a: Line, b: Line, tol: float) -> list[_Place]:
    (ax, ay), (bx, by) = a.direction, b.direction
    cross = ax * by - ay * bx
    if abs(cross) < 1e-14:
        return []
    dx, dy = b.start[0] - a.start[0], b.start[1] - a.start[1]
    along = (dx * by - dy * bx) / cross
    x, y = a.start[0] + along * ax, a.start[1] + along * ay
    return [_Place(x, y, "crossing", tol / abs(cross))]


def _line_round(line: Line, ring: Arc | Circle, tol: float) -> list[_Place]:
    ux, uy = line.direction
    if ux == uy == 0.0:
        return []
    (cx, cy), r = ring.center, ring.radius
    dx, dy = line.start[0] - cx, line.start[1] - cy
    # Signed distance of the line from the center along its left normal, and the foot.
    d = dy * ux - dx * uy
    fx, fy = cx - d * uy, cy + d * ux
    if abs(abs(d) - r) <= tol:
        k = 0.5 * (1.0 + r / abs(d)) if d else 1.0
        x, y = cx + k * (fx - cx), cy + k * (fy - cy)
        return [_Place(x, y, "touch", 2.0 * sqrt(2.0 * r * tol))]
    if abs(d) > r:
        return []
    h = sqrt((r - abs(d)) * (r + abs(d)))
    blur = tol * r / h
    return [_Place(fx + s * h * ux, fy + s * h * uy, "crossing", blur) for s in (-1.0, 1.0)]


def _round_round(a: Arc | Circle, b: Arc | Circle, tol: float) -> list[_Place]:
    dx, dy = b.center[0] - a.center[0], b.center[1] - a.center[1]
    apart, ra, rb = hypot(dx, dy), a.radius, b.radius
    if apart <= tol:
        return []
    ux, uy = dx / apart, dy / apart
    outside, inside = apart - (ra + rb), abs(ra - rb) - apart
    if abs(outside) <= tol or abs(inside) <= tol:
        # On the line of centers; the same place seen from either circle, half way between both.
        sign_a = 1.0 if abs(outside) <= tol or ra > rb else -1.0
        sign_b = -1.0 if abs(outside) <= tol else sign_a
        k = 0.5 * (sign_a * ra + apart + sign_b * rb)
        bend = ra * rb / (ra + rb if abs(outside) <= tol else max(abs(ra - rb), tol))
        blur = 2.0 * sqrt(2.0 * bend * tol)
        return [_Place(a.center[0] + k * ux, a.center[1] + k * uy, "touch", blur)]
    if outside > 0.0 or inside > 0.0:
        return []
    along = 0.5 * (apart + (ra - rb) * (ra + rb) / apart)
    # Heron's product keeps the height exact for flat triangles.
    square = (apart + ra + rb) * -outside * (apart - abs(ra - rb)) * (apart + abs(ra - rb))
    h = sqrt(square) / (2.0 * apart)
    mx, my = a.center[0] + along * ux, a.center[1] + along * uy
    blur = tol * ra * rb / (apart * h)
    return [_Place(mx + s * h * uy, my - s * h * ux, "crossing", blur) for s in (1.0, -1.0)]


def _within(curve: Curve, place: _Place, bounded: bool, tol: float) -> float | None:
    """Parameter of a place on a curve, 0 or 1 where an end is as near as the tolerance tells."""
    t = parameter_at(curve, (place.x, place.y))
    if isinstance(curve, Circle):
        return t
    length = curve.length or 1.0
    near = max(tol, min(place.blur, 0.25 * length) if place.kind == "touch" else tol) / length
    if abs(t) <= tol / length:
        return 0.0
    if abs(t - 1.0) <= tol / length:
        return 1.0
    return t if not bounded or -near <= t <= 1.0 + near else None


def _pin(a: Curve, b: Curve, point: XY, t: float, u: float) -> XY:
    """Take the stored end where a curve ends, so that neighbours meet bit by bit."""
    if not isinstance(a, Circle) and t in (0.0, 1.0):
        return end_of(a) if t else start_of(a)
    if not isinstance(b, Circle) and u in (0.0, 1.0):
        return end_of(b) if u else start_of(b)
    return point


def _add_ends(
    found: list[Meeting], a: Curve, b: Curve, bounds: tuple[bool, bool], tol: float
) -> None:
    """Let an end that lies on the other curve be the meeting, in place of one blurred past it."""
    blur, kind = _blur_at_ends(a, b, tol)
    ends: list[tuple[XY, float | None, float | None]] = []
    if bounds[0] and not isinstance(a, Circle):
        ends += [(p, t, None) for p, t in ((a.start, 0.0), (a.end, 1.0))]
    if bounds[1] and not isinstance(b, Circle):
        ends += [(p, None, t) for p, t in ((b.start, 0.0), (b.end, 1.0))]
    for point, t, u in ends:
        other, limited = (b, bounds[1]) if u is None else (a, bounds[0])
        if distance(other, point, bounded=limited) > tol:
            continue
        near = [m for m in found if dist(m.point, point) <= blur]
        if any(m.a in (0.0, 1.0) or m.b in (0.0, 1.0) for m in near):
            continue
        on_a = _snapped(a, point, tol) if t is None else t
        on_b = _snapped(b, point, tol) if u is None else u
        for m in near:
            found.remove(m)
        found.append(Meeting(point, on_a, on_b, near[0].kind if near else kind))
    found[:] = [
        m
        for m in found
        if _inside(a, m.a, bounds[0], tol) and _inside(b, m.b, bounds[1], tol)
    ]


def _blur_at_ends(a: Curve, b: Curve, tol: float) -> tuple[float, Kind]:
    places = () if same_carrier(a, b, tol) else _places(a, b, tol)
    if not places:
        return tol, "touch"
    return max(tol, *(p.blur for p in places)), places[0].kind


def _snapped(curve: Curve, point: XY, tol: float) -> float:
    t = parameter_at(curve, point)
    if isinstance(curve, Circle):
        return t
    slack = tol / (curve.length or 1.0)
    return 0.0 if abs(t) <= slack else 1.0 if abs(t - 1.0) <= slack else t


def _inside(curve: Curve, t: float, bounded: bool, tol: float) -> bool:
    if not bounded or isinstance(curve, Circle):
        return True
    slack = tol / (curve.length or 1.0)
    return -slack <= t <= 1.0 + slack
