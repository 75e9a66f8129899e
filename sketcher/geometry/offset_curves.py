"""Offsets of runs of lines and arcs, with exact arcs.

Each curve is moved to its side and gaps at corners are filled; the result is cut at every meeting
and what lies nearer to the original than the offset is thrown away. What remains is joined again.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import dist, pi
from typing import Literal, NamedTuple, TypeAlias

import numpy as np

from sketcher.errors import GeometryError
from sketcher.geometry.bounds import tolerance
from sketcher.geometry.cluster import clusters
from sketcher.geometry.curve_table import CurveTable
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import reversed_curve, split, tangent_at, turn
from sketcher.geometry.meet import meet
from sketcher.geometry.meet_many import meet_all
from sketcher.geometry.vicinity import Vicinity

Join: TypeAlias = Literal["round", "mitre"]

MITRE_LIMIT = 4.0
"""A mitre further from its corner than this many offsets is rounded instead (common practice, no
source: the corner of 29 degrees)."""


class CurveRun(NamedTuple):
    """A run of offset curves, head to tail, with the index of the curve that each comes from.

    The source of an arc that rounds a corner is the curve before the corner.
    """

    curves: tuple[Curve, ...]
    sources: tuple[int, ...]
    closed: bool


class _Raw(NamedTuple):
    curve: Curve
    source: int


def offset_curve(curve: Curve, distance: float) -> Curve:
    """Return one curve moved to its left by `distance` (to its right when negative).

    The left of a circle is its inside.

    Raises
    ------
    GeometryError
        When the radius would not stay above zero.
    """
    if isinstance(curve, Line):
        ux, uy = curve.direction
        dx, dy = -distance * uy, distance * ux
        return Line(
            (curve.start[0] + dx, curve.start[1] + dy), (curve.end[0] + dx, curve.end[1] + dy)
        )
    inward = distance if isinstance(curve, Circle) or curve.ccw else -distance
    radius = curve.radius - inward
    if not radius > 0.0:
        raise GeometryError(
            "offset", f"of {abs(distance):g} takes away the radius of {curve.radius:g}",
            "give a smaller offset",
        )
    if isinstance(curve, Circle):
        return Circle(curve.center, radius)
    (cx, cy), k = curve.center, radius / curve.radius
    start, end = ((cx + k * (x - cx), cy + k * (y - cy)) for x, y in (curve.start, curve.end))
    return Arc(curve.center, start, end, curve.ccw)


def offset(
    curves: Sequence[Curve], distance: float, join: Join = "round", closed: bool | None = None
) -> tuple[CurveRun, ...]:
    """Return the offset of a run of curves to its left, or to its right when negative.

    Parameters
    ----------
    curves : sequence of Curve
        Head to tail; a circle stands alone.
    distance : float
        Distance from the run, in the part's unit.
    join : {"round", "mitre"}
        What fills the gap at an outer corner.
    closed : bool, optional
        Whether the end joins the start; by default when they are one place.

    Returns
    -------
    tuple of Run
        Usually one; none when nothing is that far away; several when the run pinches.
    """
    curves = tuple(curves)
    if not curves:
        return ()
    if distance == 0.0:
        ends_meet = _meets_itself(curves, tolerance(curves)) if closed is None else closed
        return (CurveRun(curves, tuple(range(len(curves))), ends_meet),)
    if distance < 0.0:
        back = offset([reversed_curve(c) for c in reversed(curves)], -distance, join, closed)
        last = len(curves) - 1
        if isinstance(curves[0], Circle):
            return (CurveRun((offset_curve(curves[0], distance),), (0,), True),)
        return tuple(
            CurveRun(
                tuple(reversed_curve(c) for c in reversed(run.curves)),
                tuple(last - k for k in reversed(run.sources)),
                run.closed,
            )
            for run in back
        )
    if isinstance(curves[0], Circle):
        if distance >= curves[0].radius:
            return ()
        return (CurveRun((offset_curve(curves[0], distance),), (0,), True),)
    tol = tolerance(curves)
    closed = _meets_itself(curves, tol) if closed is None else closed
    raw = _raw(curves, distance, join, closed, tol)
    return _rejoined(_kept(raw, curves, distance, tol), tol)


def around(curves: Sequence[Curve], distance: float) -> tuple[CurveRun, ...]:
    """Return the outline at `distance` all round an open run: a slot about its center line.

    Counter-clockwise, with round ends.
    """
    there = tuple(curves)
    back = tuple(reversed_curve(c) for c in reversed(there))
    if not distance > 0.0:
        raise GeometryError("distance", f"{distance:g} is not above zero", "give half a width")
    count = len(there)
    return tuple(
        run._replace(sources=tuple(min(k, 2 * count - 1 - k) for k in run.sources))
        for run in offset((*there, *back), -distance, closed=True)
    )


def _meets_itself(curves: Sequence[Curve], tol: float) -> bool:
    first, last = curves[0], curves[-1]
    if isinstance(first, Circle) or isinstance(last, Circle):
        return True
    return dist(last.end, first.start) <= tol


def _raw(
    curves: Sequence[Curve], distance: float, join: Join, closed: bool, tol: float
) -> list[_Raw]:
    """Every curve moved to the left, and fillings where the run turns to the right."""
    moved: list[Curve | None] = []
    for curve in curves:
        gone = isinstance(curve, Arc) and curve.ccw and curve.radius - distance <= tol
        moved.append(None if gone or curve.length <= tol else offset_curve(curve, distance))
    fillings: list[_Raw] = []
    corners = list(pairwise(range(len(curves))))
    if closed:
        corners.append((len(curves) - 1, 0))
    for i, j in corners:
        before, after = curves[i], curves[j]
        bend = turn(tangent_at(before, 1.0), tangent_at(after, 0.0))
        # A run that turns straight back is gone round like a corner to the right.
        if bend >= -1e-12 and bend < pi - 1e-9:
            continue
        if join == "mitre" and _mitred(moved, i, j, after, distance):
            continue
        filling = _round_corner(before, after, distance)
        if filling.length > tol:
            fillings.append(_Raw(filling, i))
    return [*(_Raw(c, k) for k, c in enumerate(moved) if c is not None), *fillings]


def _round_corner(before: Curve, after: Curve, distance: float) -> Arc:
    assert not isinstance(before, Circle)
    assert not isinstance(after, Circle)
    (ux, uy), (vx, vy) = tangent_at(before, 1.0), tangent_at(after, 0.0)
    (px, py), (qx, qy) = before.end, after.start
    return Arc(
        before.end,
        (px - distance * uy, py + distance * ux),
        (qx - distance * vy, qy + distance * vx),
        ccw=False,
    )


def _mitred(
    moved: list[Curve | None], i: int, j: int, after: Curve, distance: float
) -> bool:
    """Lengthen two moved curves to where they meet, when that is not too far away."""
    a, b = moved[i], moved[j]
    if a is None or b is None or isinstance(a, Circle) or isinstance(b, Circle) or i == j:
        return False
    assert not isinstance(after, Circle)
    meeting: XY | None = None
    least = MITRE_LIMIT * distance
    for m in meet(a, b, bounded=False):
        apart = dist(m.point, after.start)
        if apart <= least:
            meeting, least = m.point, apart
    if meeting is None:
        return False
    moved[i], moved[j] = _ends_at(a, a.start, meeting), _ends_at(b, meeting, b.end)
    return True


def _kept(
    raw: Sequence[_Raw], curves: Sequence[Curve], distance: float, tol: float
) -> list[_Raw]:
    """Cut at every meeting and keep the pieces that are as far away as they should be."""
    if not raw:
        return []
    met = meet_all(CurveTable([r.curve for r in raw]), tol)
    cuts: list[list[float]] = [[] for _ in raw]
    for own, t in ((met.a, met.ta), (met.b, met.tb)):
        for k, at in zip(own.tolist(), t.tolist(), strict=True):
            cuts[k].append(at)
    pieces = [
        _Raw(part, r.source)
        for r, at in zip(raw, cuts, strict=True)
        for part in split(r.curve, at)
        if part.length > tol
    ]
    table = CurveTable([p.curve for p in pieces])
    every = np.arange(len(pieces))
    probes = np.concatenate(
        [table.points(every, np.full(len(pieces), t)) for t in (0.5, 0.25, 0.75)]
    )
    _, least = Vicinity(CurveTable(curves)).nearest(probes)
    apart = least.reshape(3, -1).min(axis=0)
    # Near a shallow crossing a short wrong piece is hardly too near; a millionth of the offset is
    # far above rounding and far below what such a piece would show.
    keep = apart >= distance - max(10.0 * tol, 1e-7 * distance)
    return [p for p, good in zip(pieces, keep, strict=True) if good]


def _rejoined(pieces: Sequence[_Raw], tol: float) -> tuple[CurveRun, ...]:
    """Follow the pieces head to tail."""
    if not pieces:
        return ()
    heads = [p.curve.start for p in pieces]  # type: ignore[union-attr]
    tails = [p.curve.end for p in pieces]  # type: ignore[union-attr]
    labels = clusters(np.array([*heads, *tails]), 10.0 * tol).tolist()
    n = len(pieces)
    starts: dict[int, list[int]] = {}
    for k in range(n):
        starts.setdefault(labels[k], []).append(k)
    arriving = {labels[n + k] for k in range(n)}
    # Open runs from where nothing arrives, then whatever goes round.
    order = sorted(range(n), key=lambda k: labels[k] in arriving)
    left = set(range(n))
    runs: list[CurveRun] = []
    for first in order:
        if first not in left:
            continue
        run: list[int] = []
        following: int | None = first
        while following is not None:
            left.discard(following)
            run.append(following)
            here = labels[n + following]
            following = next((j for j in starts.get(here, []) if j in left), None)
        closed = labels[first] == labels[n + run[-1]]
        runs.append(_merged([pieces[k] for k in run], closed))
    return tuple(runs)


def _merged(pieces: Sequence[_Raw], closed: bool) -> CurveRun:
    """Put pieces of one moved curve together again and let neighbours share their ends."""
    joined: list[_Raw] = []
    for piece in pieces:
        if joined and _continues(joined[-1], piece):
            joined[-1] = _Raw(_between(joined[-1].curve, joined[-1], piece), piece.source)
        else:
            joined.append(piece)
    if closed and len(joined) > 1 and _continues(joined[-1], joined[0]):
        joined[0] = _Raw(_between(joined[0].curve, joined.pop(), joined[0]), joined[0].source)
    ends: list[XY] = [r.curve.end for r in joined]  # type: ignore[union-attr]
    curves = []
    for k, r in enumerate(joined):
        assert not isinstance(r.curve, Circle)
        start = ends[k - 1] if k or (closed and len(joined) > 1) else r.curve.start
        curves.append(_ends_at(r.curve, start, ends[k]))
    return CurveRun(tuple(curves), tuple(r.source for r in joined), closed)


def _continues(a: _Raw, b: _Raw) -> bool:
    if a.source != b.source or type(a.curve) is not type(b.curve):
        return False
    if isinstance(a.curve, Arc) and isinstance(b.curve, Arc):
        return a.curve.center == b.curve.center and a.curve.ccw == b.curve.ccw
    return True


def _between(curve: Curve, first: _Raw, last: _Raw) -> Curve:
    assert not isinstance(first.curve, Circle)
    assert not isinstance(last.curve, Circle)
    return _ends_at(curve, first.curve.start, last.curve.end)


def _ends_at(curve: Curve, start: XY, end: XY) -> Curve:
    if isinstance(curve, Line):
        return Line(start, end)
    assert isinstance(curve, Arc)
    return Arc(curve.center, start, end, curve.ccw)
