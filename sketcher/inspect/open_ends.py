"""Ends of the outline that meet nothing, and what they were probably meant to meet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import hypot

import numpy as np

from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.meet import meet
from sketcher.geometry.project import nearest
from sketcher.geometry.table import Bools, CurveTable
from sketcher.inspect import tangency
from sketcher.inspect.joint import End, Joint, turn_between
from sketcher.part.whole import Piece


def nearly(
    outline: Sequence[Piece], ends: list[End], limits: tuple[float, float],
    bound: frozenset[frozenset[str]],
) -> list[Joint]:
    """Pair the open ends that are each other's nearest; the rest goes to the nearest curve."""
    partner = _partners(ends, limits[1])
    joints = [
        _apart(outline, ends[i], ends[j], bound) for i, j in enumerate(partner) if i < j
    ]
    alone = [ends[i] for i, j in enumerate(partner) if j < 0]
    if alone:
        table = CurveTable([piece.curve for piece in outline])
        found = [_to_curve(outline, table, end, limits, bound) for end in alone]
        joints += [joint for joint in found if joint]
    return joints


def _partners(ends: list[End], reach: float) -> list[int]:
    """Number of the mutually nearest other end within `reach`, or -1."""
    if len(ends) < 2:
        return [-1] * len(ends)
    at = np.array([end.at for end in ends])
    owner = np.array([end.piece for end in ends])
    best, least = np.empty(len(ends), dtype=int), np.empty(len(ends))
    # In portions, so that a part of loose scraps takes no memory by the square of its ends.
    for first in range(0, len(ends), 256):
        rows = slice(first, first + 256)
        apart = np.hypot(*(at[rows, None, :] - at[None, :, :]).transpose(2, 0, 1))
        apart[owner[rows, None] == owner[None, :]] = np.inf
        best[rows], least[rows] = apart.argmin(axis=1), apart.min(axis=1)
    mutual = (least <= reach) & (best[best] == np.arange(len(ends)))
    return [int(other) for other in np.where(mutual, best, -1)]


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
    outline: Sequence[Piece], table: CurveTable, end: End, limits: tuple[float, float],
    bound: frozenset[frozenset[str]],
) -> Joint | None:
    """The joint of an open end with the nearest curve within reach that it is not joined to.

    An end that lies on the other curve already leaves no gap; the profile tells that place.
    """
    tol, reach = limits
    own = outline[end.piece]
    apart = table.distances_to_all(np.array([end.at]))[0]
    apart[end.piece] = np.inf
    apart[_joined(table, end.piece, tol)] = np.inf
    nearest_one = int(apart.argmin())
    if not tol < apart[nearest_one] <= reach:
        return None
    other = outline[nearest_one]
    past = _crossing_near(own.curve, other.curve, end.at, 2.0 * reach)
    at = past or nearest(other.curve, end.at).point
    gap = hypot(end.at[0] - at[0], end.at[1] - at[1])
    angle = tangency.angle(own.curve, other.curve)
    return _open_joint(own, other, at, gap, angle, past is not None, bound)


def _joined(table: CurveTable, own: int, tol: float) -> Bools:
    """Which curves share an end with one of them."""
    found = np.zeros(len(table), dtype=bool)
    for mine in (table.start[own], table.end[own]):
        for theirs in (table.start, table.end):
            found |= np.hypot(*(theirs - mine).T) <= tol
    return found & ~table.full


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
