"""Ends that nearly meet: short of each other, or a little past the curve they should end on."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from math import dist
from typing import Literal, NamedTuple

import numpy as np

from sketcher.geometry.bounds import size_of, tolerance
from sketcher.geometry.chain import Nodes, nodes
from sketcher.geometry.curve_table import CurveTable, Floats, Ints, pairs_between
from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.meet_many import meet_all
from sketcher.geometry.project import nearest
from sketcher.interrupt import check

NEARLY = 0.01
"""Ends nearer than this part of the size are meant to meet (common practice, no source)."""


class Miss(NamedTuple):
    """A loose end of curve `a` and the place near by on curve `b` where it seems to belong.

    A ``"gap"`` is `size` wide; at an ``"overrun"`` the end is `size` past the crossing, measured
    along the curve. `at` is the loose end, `to` the place. `b` has a loose end there too when
    `ends` is True.
    """

    kind: Literal["gap", "overrun"]
    a: str
    b: str
    at: XY
    to: XY
    size: float
    ends: bool


def near_misses(
    items: Iterable[tuple[str, Curve]], tol: float | None = None, reach: float | None = None
) -> tuple[Miss, ...]:
    """Return where ends of curves nearly meet, the widest miss last.

    Parameters
    ----------
    items : iterable of (id, curve)
        The outline, in any order.
    tol : float, optional
        Ends within this length do meet; 1e-9 of the size by default.
    reach : float, optional
        Misses up to this length are reported; a hundredth of the size by default.
    """
    pairs = tuple(items)
    ids, curves = [i for i, _ in pairs], [c for _, c in pairs]
    tol = tolerance(curves) if tol is None else tol
    reach = NEARLY * size_of(curves) if reach is None else reach
    net = nodes(curves, tol)
    loose = [
        (k, bool(net.ends[k][1] == node), net.points[node])
        for node, at in enumerate(net.at)
        if len(at) == 1
        for k in at
    ]
    if not loose:
        return ()
    table = CurveTable(curves)
    past = _overruns(table, tol, reach)
    at = np.array([point for *_, point in loose])
    boxes = np.concatenate((at, at), axis=1)
    ends, beside = _near(boxes, boxes, reach), _near(boxes, table.boxes, reach)
    found: list[Miss] = []
    taken: set[tuple[int, bool]] = set()
    for k, at_end, point in loose:
        if (k, at_end) in past:
            other, place, size = past[k, at_end]
            found.append(Miss("overrun", ids[k], ids[other], point, place, size, False))
            taken.add((k, at_end))
    for number, (k, at_end, point) in enumerate(loose):
        check()
        if (k, at_end) in taken:
            continue
        near = [loose[other] for other in ends[number]]
        mate = _loose_mate(near, taken, k, point, reach)
        if mate is not None:
            other, other_end, place = mate
            taken |= {(k, at_end), (other, other_end)}
            size = dist(place, point)
            found.append(Miss("gap", ids[k], ids[other], point, place, size, True))
            continue
        one = _curve_beside(table, net, k, point, beside[number], reach)
        if one is not None and (foot := nearest(curves[one], point)).distance > tol:
            found.append(Miss("gap", ids[k], ids[one], point, foot.point, foot.distance, False))
    return tuple(sorted(found, key=lambda miss: miss.size))


def _overruns(
    table: CurveTable, tol: float, reach: float
) -> dict[tuple[int, bool], tuple[int, XY, float]]:
    """For each end that runs past a crossing within reach: the other curve, the place, how far."""
    met = meet_all(table, tol)
    past: dict[tuple[int, bool], tuple[int, XY, float]] = {}
    sides: tuple[tuple[Ints, Ints, Floats], ...] = ((met.a, met.b, met.ta), (met.b, met.a, met.tb))
    for own, other, t in sides:
        for at_end in (False, True):
            rest = np.where(at_end, 1.0 - t, t) * table.length[own]
            # Past half the curve the other end is meant.
            near = ~table.full[own] & ~met.shared & (rest > tol) & (rest <= reach)
            near &= rest < 0.5 * table.length[own]
            for k in np.flatnonzero(near):
                key = (int(own[k]), at_end)
                if key not in past or rest[k] > past[key][2]:
                    place = (float(met.point[k, 0]), float(met.point[k, 1]))
                    past[key] = (int(other[k]), place, float(rest[k]))
    return past


def _near(ones: Floats, others: Floats, reach: float) -> list[Ints]:
    """For each of some boxes the numbers of those of the others within reach, rising."""
    found = list(pairs_between(ones, others, reach))
    one, other = (np.concatenate(column) for column in zip(*found, strict=True))
    order = np.lexsort((other, one))
    stops = np.searchsorted(one[order], np.arange(len(ones) + 1))
    return [other[order][a:b] for a, b in pairwise(stops)]


def _loose_mate(
    loose: list[tuple[int, bool, XY]], taken: set[tuple[int, bool]], k: int, point: XY,
    reach: float,
) -> tuple[int, bool, XY] | None:
    """Return the nearest loose end of another curve within reach."""
    best, least = None, reach
    for other, other_end, place in loose:
        if other == k or (other, other_end) in taken:
            continue
        apart = dist(place, point)
        if apart <= least:
            best, least = (other, other_end, place), apart
    return best


def _curve_beside(
    table: CurveTable, net: Nodes, k: int, point: XY, near: Ints, reach: float
) -> int | None:
    """Return the nearest curve within reach that is not joined to the same curve's other end."""
    apart = table.distances(near, np.tile(point, (len(near), 1)))
    joined = np.array([j for node in net.ends[k] if node >= 0 for j in net.at[node]])
    # A short curve is near its neighbours anyway; only a real approach counts.
    own = np.isin(near, joined) & (apart >= 0.5 * table.length[k])
    apart[own | (near == k)] = np.inf
    best = int(np.argmin(apart))
    return int(near[best]) if apart[best] <= reach else None
