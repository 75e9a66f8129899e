"""Ends of the outline that meet nothing, and what they were probably meant to meet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import dist

import numpy as np

from sketcher.geometry.curve_table import Bools, CurveTable, Floats, Ints, pair_portions
from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.meet import meet
from sketcher.geometry.project import nearest
from sketcher.geometry.vicinity import Vicinity
from sketcher.inspect import tangency
from sketcher.inspect.joint_value import Joint, OutlineEnd, turn_between
from sketcher.interrupt import check
from sketcher.part.whole import Piece

TOLD = 1_000
"""Joints of open ends that are described. That an end is open is a finding by itself."""

ASKED = 1_000_000
"""Curves near open ends that are looked at. Where thousands of ends lie between thousands of
curves, as in a pattern that hardly moves, it is of no use to tell which is the nearest."""

ROUNDS = 3
"""Search reaches for the nearest curve: each is eight times the one before, the last the whole."""


def nearly(
    outline: Sequence[Piece], ends: list[OutlineEnd], limits: tuple[float, float],
    bound: frozenset[frozenset[str]],
) -> list[Joint]:
    """Pair the open ends that are each other's nearest; the rest goes to the nearest curve.

    An end that lies on another curve already leaves no gap; the profile tells that place. At most
    `TOLD` joints are returned.
    """
    if not ends:
        return []
    tol, reach = limits
    table = CurveTable([piece.curve for piece in outline])
    around = Vicinity(table)
    ends = [end for end, on in zip(ends, _on_another(around, ends, tol), strict=True) if not on]
    partner = _partners(ends, reach)
    pairs = [(ends[i], ends[j]) for i, j in enumerate(partner) if i < j]
    joints = [_apart(outline, a, b, bound) for a, b in pairs[:TOLD]]
    alone = [ends[i] for i, j in enumerate(partner) if j < 0]
    for end, other in zip(alone, _nearest_curves(table, around, alone, limits), strict=True):
        if other >= 0 and len(joints) < TOLD:
            joints.append(_to_curve(outline, end, other, reach, bound))
    return joints


def _on_another(around: Vicinity, ends: list[OutlineEnd], tol: float) -> Bools:
    """Tell which ends lie on another curve."""
    at, owner = _columns(ends)
    found: Bools = np.zeros(len(ends), bool)
    asked = 0
    for which, curve, _ in around.within(at, tol):
        found[which[curve != owner[which]]] = True
        asked += len(which)
        if asked > ASKED:
            break
    return found


def _take_nearer(
    at: Floats, owner: Ints, pair: tuple[Ints, Ints], reach: float, known: tuple[Ints, Floats]
) -> None:
    """Note which of some pairs of ends are nearer than what is known, of equals the first."""
    (i, j), (best, least) = pair, known
    apart = np.hypot(*(at[i] - at[j]).T)
    keep = (apart <= reach) & (owner[i] != owner[j])
    one, other = np.concatenate((i[keep], j[keep])), np.concatenate((j[keep], i[keep]))
    apart = np.concatenate((apart[keep], apart[keep]))
    order = np.lexsort((other, apart, one))
    one, other, apart = one[order], other[order], apart[order]
    first = np.flatnonzero(np.diff(one, prepend=-1))
    nearer = (apart[first] < least[one[first]]) | (
        (apart[first] == least[one[first]]) & (other[first] < best[one[first]]))
    first = first[nearer]
    best[one[first]], least[one[first]] = other[first], apart[first]


def _nearest_curves(
    table: CurveTable, around: Vicinity, ends: list[OutlineEnd], limits: tuple[float, float]
) -> list[int]:
    """For each end the number of the nearest curve within reach that it is not joined to, or -1."""
    tol, reach = limits
    at, owner = _columns(ends)
    best = np.full(len(ends), -1)
    left, asked = np.arange(len(ends)), 0
    for turn in reversed(range(ROUNDS)):
        for which, curve, apart in around.within(at[left], reach / 8.0**turn):
            end = left[which]
            other = (curve != owner[end]) & ~_joined(table, owner[end], curve, tol)
            end, curve, apart = end[other], curve[other], apart[other]
            order = np.lexsort((curve, apart, end))
            first = order[np.flatnonzero(np.diff(end[order], prepend=-1))]
            best[end[first]] = curve[first]
            asked += len(which)
            if asked > ASKED:
                return [int(other) for other in best]
        left = left[best[left] < 0]
    return [int(other) for other in best]


def _columns(ends: list[OutlineEnd]) -> tuple[Floats, Ints]:
    """Place of each end, shape (n, 2), and the number of its piece."""
    at = np.array([end.at for end in ends], float).reshape(len(ends), 2)
    return at, np.array([end.piece for end in ends], np.intp)


def _partners(ends: list[OutlineEnd], reach: float) -> list[int]:
    """Number of the mutually nearest other end within `reach`, or -1."""
    at, owner = _columns(ends)
    best, least = np.full(len(ends), -1), np.full(len(ends), np.inf)
    for turn in reversed(range(ROUNDS)):
        left = best < 0
        if not left.any():
            break
        for i, j in pair_portions(np.concatenate((at, at), axis=1), reach / 8.0**turn):
            new = left[i] | left[j]
            _take_nearer(at, owner, (i[new], j[new]), reach / 8.0**turn, (best, least))
    mutual = (best >= 0) & (best[best] == np.arange(len(ends)))
    return [int(other) for other in np.where(mutual, best, -1)]


def _apart(
    outline: Sequence[Piece], a: OutlineEnd, b: OutlineEnd, bound: frozenset[frozenset[str]]
) -> Joint:
    first, second = outline[a.piece], outline[b.piece]
    gap = dist(a.at, b.at)
    past = _crossing_near(first.curve, second.curve, a.at, 2.0 * gap)
    at = past or (0.5 * (a.at[0] + b.at[0]), 0.5 * (a.at[1] + b.at[1]))
    if past:
        gap = max(dist(end.at, at) for end in (a, b))
    return _open_joint(first, second, at, gap, turn_between(a, b), bool(past), bound)


def _to_curve(
    outline: Sequence[Piece], end: OutlineEnd, nearest_one: int, reach: float,
    bound: frozenset[frozenset[str]],
) -> Joint:
    """The joint of an open end with a curve near by."""
    check()
    own, other = outline[end.piece], outline[nearest_one]
    past = _crossing_near(own.curve, other.curve, end.at, 2.0 * reach)
    at = past or nearest(other.curve, end.at).point
    gap = dist(end.at, at)
    angle = tangency.angle(own.curve, other.curve)
    return _open_joint(own, other, at, gap, angle, past is not None, bound)


def _joined(table: CurveTable, ones: Ints, others: Ints, tol: float) -> Bools:
    """Which curves share an end with the one beside them."""
    found = np.zeros(len(others), dtype=bool)
    for mine in (table.start[ones], table.end[ones]):
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
    found = [(dist(p, near), p) for p in _crossings(a, b)]
    if not found:
        return None
    distance, at = min(found)
    return at if distance <= reach else None


def _crossings(a: Curve, b: Curve) -> Iterable[XY]:
    return [meeting.point for meeting in meet(a, b)]
