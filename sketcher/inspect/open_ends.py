"""Ends of the outline that meet nothing, and what they were probably meant to meet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import hypot

import numpy as np

from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.meet import meet
from sketcher.geometry.project import nearest
from sketcher.geometry.table import Bools, CurveTable, Ints, pair_portions, pairs_between
from sketcher.inspect import tangency
from sketcher.inspect.joint import End, Joint, turn_between
from sketcher.interrupt import check
from sketcher.part.whole import Piece


def nearly(
    outline: Sequence[Piece], ends: list[End], limits: tuple[float, float],
    bound: frozenset[frozenset[str]],
) -> list[Joint]:
    """Pair the open ends that are each other's nearest; the rest goes to the nearest curve.

    An end that lies on another curve already leaves no gap; the profile tells that place.
    """
    if not ends:
        return []
    tol, reach = limits
    table = CurveTable([piece.curve for piece in outline])
    ends = [end for end, near in zip(ends, _beside(table, ends, tol), strict=True)
            if not _lies_on_one(table, end, near, tol)]
    partner = _partners(ends, reach)
    joints = [
        _apart(outline, ends[i], ends[j], bound) for i, j in enumerate(partner) if i < j
    ]
    alone = [ends[i] for i, j in enumerate(partner) if j < 0]
    if alone:
        found = [_to_curve(outline, table, end, near, limits, bound)
                 for end, near in zip(alone, _beside(table, alone, reach), strict=True)]
        joints += [joint for joint in found if joint]
    return joints


def _lies_on_one(table: CurveTable, end: End, near: Ints, tol: float) -> bool:
    """Tell whether an end lies on another of the curves near by."""
    check()
    near = near[near != end.piece]
    apart = table.distances(near, np.tile(end.at, (len(near), 1)))
    return bool((apart <= tol).any())


def _partners(ends: list[End], reach: float) -> list[int]:
    """Number of the mutually nearest other end within `reach`, or -1."""
    at = np.array([end.at for end in ends]).reshape(len(ends), 2)
    owner = np.array([end.piece for end in ends])
    best, least = np.full(len(ends), -1), np.full(len(ends), np.inf)
    for i, j in pair_portions(np.concatenate((at, at), axis=1), reach):
        apart = np.hypot(*(at[i] - at[j]).T)
        keep = (apart <= reach) & (owner[i] != owner[j])
        one, other = np.concatenate((i[keep], j[keep])), np.concatenate((j[keep], i[keep]))
        apart = np.concatenate((apart[keep], apart[keep]))
        order = np.lexsort((other, apart, one))
        one, other, apart = one[order], other[order], apart[order]
        first = np.flatnonzero(np.diff(one, prepend=-1))
        # Of two that are as near the first.
        nearer = (apart[first] < least[one[first]]) | (
            (apart[first] == least[one[first]]) & (other[first] < best[one[first]]))
        first = first[nearer]
        best[one[first]], least[one[first]] = other[first], apart[first]
    mutual = (best >= 0) & (best[best] == np.arange(len(ends)))
    return [int(other) for other in np.where(mutual, best, -1)]


def _beside(table: CurveTable, ends: list[End], reach: float) -> list[Ints]:
    """For each end the numbers of the curves whose boxes come within reach, rising."""
    at = np.array([end.at for end in ends])
    found = list(pairs_between(np.concatenate((at, at), axis=1), table.boxes, reach))
    end, curve = (np.concatenate(column) for column in zip(*found, strict=True))
    order = np.lexsort((curve, end))
    stops = np.searchsorted(end[order], np.arange(len(ends) + 1))
    return [curve[order][a:b] for a, b in pairwise(stops)]


def _apart(
    outline: Sequence[Piece], a: End, b: End, bound: frozenset[frozenset[str]]
) -> Joint:
    first, second = outline[a.piece], outline[b.piece]
    gap = hypot(a.at[0] - b.at[0], a.at[1] - b.at[1])
    past = _crossing_near(first.curve, second.curve, a.at, 2.0 * gap)
    at = past or (0.5 * (a.at[0] + b.at[0]), 0.5 * (a.at[1] + b.at[1]))
    if past:
        gap = max(hypot(end.at[0] - at[0], end.at[1] - at[1]) for end in (a, b))
    return _open_joint(first, second, at, gap, turn_between(a, b), bool(past), bound)


def _to_curve(
    outline: Sequence[Piece], table: CurveTable, end: End, near: Ints,
    limits: tuple[float, float], bound: frozenset[frozenset[str]],
) -> Joint | None:
    """The joint of an open end with the nearest of the curves near by that it is not joined to."""
    check()
    tol, reach = limits
    own = outline[end.piece]
    near = near[(near != end.piece) & ~_joined(table, end.piece, near, tol)]
    apart = table.distances(near, np.tile(end.at, (len(near), 1)))
    if not (apart <= reach).any():
        return None
    nearest_one = int(apart.argmin())
    other = outline[near[nearest_one]]
    past = _crossing_near(own.curve, other.curve, end.at, 2.0 * reach)
    at = past or nearest(other.curve, end.at).point
    gap = hypot(end.at[0] - at[0], end.at[1] - at[1])
    angle = tangency.angle(own.curve, other.curve)
    return _open_joint(own, other, at, gap, angle, past is not None, bound)


def _joined(table: CurveTable, own: int, others: Ints, tol: float) -> Bools:
    """Which of some curves share an end with one of them."""
    found = np.zeros(len(others), dtype=bool)
    for mine in (table.start[own], table.end[own]):
        for theirs in (table.start[others], table.end[others]):
            found |= np.hypot(*(theirs - mine).T) <= tol
    return found & ~table.full[others]


def _open_joint(
    first: Piece, second: Piece, at: XY, gap: float, angle: float, past: bool,
    bound: frozenset[frozenset[str]],
) -> Joint:
    return Joint(
        at, (first.id, second.id), "overrun" if past else "gap", gap, angle, None,
        frozenset((first.source, second.source)) in bound, 0.0,
    )


def _crossing_near(a: Curve, b: Curve, near: XY, reach: float) -> XY | None:
    """The crossing of two curves nearest to a place, or None when they have none within reach."""
    found = [(hypot(p[0] - near[0], p[1] - near[1]), p) for p in _crossings(a, b)]
    if not found:
        return None
    distance, at = min(found)
    return at if distance <= reach else None


def _crossings(a: Curve, b: Curve) -> Iterable[XY]:
    return [meeting.point for meeting in meet(a, b)]
