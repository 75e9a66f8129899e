"""Which ends of curves are to be one place, and where that is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from math import dist, inf, pi
from typing import NamedTuple, TypeAlias

import numpy as np

from sketcher.errors import GeometryError
from sketcher.geometry.cluster import clusters
from sketcher.geometry.curve_table import Floats, pairs
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import end_of, start_of, tangent_at
from sketcher.geometry.meet import meet
from sketcher.geometry.project import parameter_at
from sketcher.interrupt import check

End: TypeAlias = tuple[int, int]
"""Number of a curve, and 0 for its start or 1 for its end."""

CROSSING = 3.0
"""The curves' own crossing is where they were to meet if it is at most so many times as far from
each end as the ends are apart."""

STEEP = 0.5
"""Sine of the angle (30 degrees) below which the crossing of two lines must be as near as the ends
are apart: an end that is off by e beside its line moves the crossing by e over that sine, while
lines that just stop short of a blunt corner cross within half of what is between them."""


class Weld(NamedTuple):
    """Ends that are to be one place, how far apart they are, and whether curves run past it."""

    ends: tuple[End, ...]
    at: XY
    wide: float
    overrun: bool = False


class _Bid(NamedTuple):
    """Two places that may be one: by rank, the nearest first."""

    own: bool
    settled: bool
    apart: float
    key: tuple[XY, XY]
    a: int
    b: int
    limit: float
    at: XY | None


class _Cluster(NamedTuple):
    """Rows of ends that are one place; where some met already; the corner that two run past."""

    rows: list[int]
    joint: XY | None = None
    corner: XY | None = None


def find_welds(curves: Sequence[Curve], gap: float, share: float, one: float) -> Iterator[Weld]:
    """Yield which ends are to be made one place.

    Parameters
    ----------
    curves : sequence of Curve
    gap : float
        Ends so far apart are joined.
    share : float
        ... where that is at most this share of the shorter of their curves.
    one : float
        Ends within this length are one place already; they are given with the others when they
        are not the same to the last bit.

    Notes
    -----
    An end that meets nothing goes to another one, or to a joint near by, which stays. Ends are
    joined in the order of their distance, and only while none of a cluster is further than the
    gap from any other: so a row of ends, each a gap from the next, does not draw together.
    """
    ends: list[End] = [(k, side) for k, curve in enumerate(curves)
                       if not isinstance(curve, Circle) for side in (0, 1)]
    if not ends:
        return
    at = np.array([_at(curves, end) for end in ends], dtype=float)
    first, number = np.unique(clusters(at, one), return_inverse=True)
    nodes: list[list[int]] = [[] for _ in first]
    for row, node in enumerate(number.tolist()):
        nodes[node].append(row)
    bids = sorted(_bids(curves, ends, at, nodes, gap, share, one))
    for cluster in _drawn_together(ends, at, nodes, bids):
        if len(cluster.rows) > 1:
            own = [ends[row] for row in cluster.rows]
            weld = _weld(curves, own, at[cluster.rows], cluster, one)
            if weld is not None:
                yield weld


def _at(curves: Sequence[Curve], end: End) -> XY:
    return (end_of if end[1] else start_of)(curves[end[0]])


def _bids(
    curves: Sequence[Curve], ends: list[End], at: Floats, nodes: list[list[int]],
    gap: float, share: float, one: float,
) -> Iterator[_Bid]:
    """Yield pairs of places near enough to be one, at least one of them a loose end."""
    points = at[[rows[0] for rows in nodes]]
    loose = np.array([len(rows) == 1 for rows in nodes])
    limits = [min([gap, *(share * curves[ends[row][0]].length for row in rows)]) for rows in nodes]
    # Two tails on one corner lie at most two gaps apart.
    a, b = pairs(np.concatenate((points, points), axis=1), 2.0 * gap)
    some = loose[a] | loose[b]
    for i, j in zip(a[some].tolist(), b[some].tolist(), strict=True):
        check()
        limit = min(limits[i], limits[j])
        owners = [{ends[row][0] for row in nodes[n]} for n in (i, j)]
        own = bool(owners[0] & owners[1])
        if own and not _nearly_round(curves, ends, nodes[i], nodes[j]):
            continue
        p, q = _xy(points[i]), _xy(points[j])
        apart = dist(p, q)
        bound = gap if own else limit
        corner = None
        if apart > bound:
            if own or not (loose[i] and loose[j]):
                continue
            corner = _tails(curves, ends[nodes[i][0]], ends[nodes[j][0]], limit)
            if corner is None:
                continue
        key = (p, q) if p < q else (q, p)
        yield _Bid(own, not (loose[i] and loose[j]), apart, key, i, j, max(bound, apart), corner)


def _nearly_round(
    curves: Sequence[Curve], ends: list[End], a: list[int], b: list[int]
) -> bool:
    """Whether two places are the ends of one arc that goes most of the way round."""
    if len(a) != 1 or len(b) != 1:
        return False
    curve = curves[ends[a[0]][0]]
    return isinstance(curve, Arc) and abs(curve.sweep) > pi


def _tails(curves: Sequence[Curve], a: End, b: End, limit: float) -> XY | None:
    """Where two curves cross that both run past it, by at most a limit."""
    best, found = inf, None
    for met in meet(curves[a[0]], curves[b[0]]):
        tails = [curves[k].length * abs(t - side)
                 for (k, side), t in ((a, met.a), (b, met.b))]
        if max(tails) <= limit and max(tails) < best:
            best, found = max(tails), met.point
    return found


def _drawn_together(
    ends: list[End], at: Floats, nodes: list[list[int]], bids: list[_Bid]
) -> list[_Cluster]:
    """Join places in the order of the bids."""
    group = [_Cluster(list(rows), min(_xy(at[row]) for row in rows) if len(rows) > 1 else None)
             for rows in nodes]
    home = list(range(len(nodes)))

    def root(node: int) -> int:
        while home[node] != node:
            node = home[node]
        return node

    for bid in bids:
        check()
        a, b = root(bid.a), root(bid.b)
        ones, others = group[a], group[b]
        if a == b or (ones.joint and others.joint):
            continue
        rows = ones.rows + others.rows
        if bid.own:
            if len(rows) > 2:
                continue
        elif len({ends[row][0] for row in rows}) < len(rows):
            continue
        if max(dist(at[p], at[q]) for p in ones.rows for q in others.rows) > bid.limit:
            continue
        home[b] = a
        group[a] = _Cluster(rows, ones.joint or others.joint, bid.at if len(rows) == 2 else None)
        group[b] = _Cluster([])
    return group


def _weld(
    curves: Sequence[Curve], ends: list[End], at: Floats, cluster: _Cluster, one: float
) -> Weld | None:
    """Return the place of some ends; None where they have it already."""
    points = sorted({_xy(p) for p in at})
    if len(points) < 2:
        return None
    wide = max(dist(p, q) for p, q in combinations(points, 2))
    ends = sorted(ends)
    if wide <= one:
        return Weld(tuple(ends), points[0], wide)
    if cluster.corner is not None:
        tail = max(dist(p, cluster.corner) for p in points)
        return Weld(tuple(ends), cluster.corner, tail, True)
    if cluster.joint is not None:
        return Weld(tuple(ends), cluster.joint, wide)
    middle = (sum(p[0] for p in points) / len(points), sum(p[1] for p in points) / len(points))
    crossing = _crossing(curves, ends, points, middle, wide)
    if crossing is None:
        return Weld(tuple(ends), middle, wide)
    past = all(_runs_past(curves, end, crossing) for end in ends)
    size = max(dist(p, crossing) for p in points) if past else wide
    return Weld(tuple(ends), crossing, size, past)


def _xy(point: Floats) -> XY:
    return (float(point[0]), float(point[1]))


def _crossing(
    curves: Sequence[Curve], ends: list[End], points: list[XY], middle: XY, wide: float
) -> XY | None:
    """Where the curves themselves cross: the two whose directions differ most."""
    def breaks(a: End, b: End) -> float:
        (ux, uy), (vx, vy) = (tangent_at(curves[k], float(side)) for k, side in (a, b))
        return abs(ux * vy - uy * vx)

    owners = [end for n, end in enumerate(ends) if end[0] not in {k for k, _ in ends[:n]}]
    if len(owners) < 2:
        return None
    a, b = max(combinations(owners, 2), key=lambda pair: breaks(*pair))
    alike = breaks(a, b) < STEEP and all(isinstance(curves[k], Line) for k, _ in (a, b))
    reach = (1.0 if alike else CROSSING) * wide
    try:
        found = [met.point for met in meet(curves[a[0]], curves[b[0]], bounded=False)]
    except GeometryError:
        return None
    near = [p for p in found if max(dist(p, q) for q in points) <= reach]
    return min(near, key=lambda p: dist(p, middle), default=None)


def _runs_past(curves: Sequence[Curve], end: End, at: XY) -> bool:
    t = parameter_at(curves[end[0]], at)
    return 0.0 < t < 1.0
