"""Many curves as columns, for questions to all of them at once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import tau
from typing import TYPE_CHECKING, Literal, TypeAlias

import numpy as np

from sketcher.geometry.bounds import bounds
from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.interrupt import check

if TYPE_CHECKING:
    from numpy.typing import NDArray

Floats: TypeAlias = "NDArray[np.float64]"
Ints: TypeAlias = "NDArray[np.intp]"
Bools: TypeAlias = "NDArray[np.bool_]"


class CurveTable:
    """Columns of n curves.

    Attributes
    ----------
    round, full : bool (n,)
        Arc or circle; circle (without ends).
    start, end, center, direction : (n, 2)
        Ends, center (of arcs and circles) and unit direction (of lines). A circle starts and ends
        at its right.
    radius, angle, sweep, length : (n,)
        Radius, start angle and signed sweep (of arcs and circles), length.
    boxes : (n, 4)
        x0, y0, x1, y1.
    """

    def __init__(self, curves: Sequence[Curve]) -> None:
        rows = np.array([_row(c) for c in curves], dtype=float).reshape(len(curves), 13)
        self.round: Bools = rows[:, 0] > 0.0
        self.full: Bools = rows[:, 0] > 1.0
        self.start: Floats = rows[:, 1:3]
        self.end: Floats = rows[:, 3:5]
        self.center: Floats = rows[:, 5:7]
        self.radius: Floats = rows[:, 7]
        self.angle: Floats = rows[:, 8]
        self.sweep: Floats = rows[:, 9]
        self.length: Floats = rows[:, 10]
        self.direction: Floats = rows[:, 11:13]
        self.boxes: Floats = np.array([bounds(c) for c in curves]).reshape(len(curves), 4)

    def __len__(self) -> int:
        return len(self.round)

    def parameters(self, which: Ints, points: Floats) -> Floats:
        """Return the parameter of the foot of each point on the unbounded curve beside it."""
        out = np.zeros(len(which))
        straight = ~self.round[which]
        i, p = which[straight], points[straight]
        span = self.end[i] - self.start[i]
        square = np.einsum("ij,ij->i", span, span)
        along = np.einsum("ij,ij->i", p - self.start[i], span)
        out[straight] = np.divide(along, square, out=np.zeros(len(i)), where=square > 0.0)
        i, p = which[~straight], points[~straight]
        ray = p - self.center[i]
        turn = (np.arctan2(ray[:, 1], ray[:, 0]) - self.angle[i]) % tau
        turn = np.where(self.sweep[i] < 0.0, (tau - turn) % tau, turn)
        sweep = np.abs(self.sweep[i])
        turn = np.where(~self.full[i] & (turn > 0.5 * (tau + sweep)), turn - tau, turn)
        out[~straight] = turn / sweep
        return out

    def points(self, which: Ints, parameters: Floats) -> Floats:
        """Return the point at each parameter of the curve beside it; shape (k, 2)."""
        t = parameters[:, None]
        flat = self.start[which] + t * (self.end[which] - self.start[which])
        angle = self.angle[which] + parameters * self.sweep[which]
        ring = np.stack((np.cos(angle), np.sin(angle)), axis=1)
        bent = self.center[which] + self.radius[which][:, None] * ring
        out: Floats = np.where(self.round[which][:, None], bent, flat)
        return out

    def distances(self, which: Ints, points: Floats) -> Floats:
        """Return the distance of each point from the bounded curve beside it."""
        t = self.parameters(which, points)
        inside = (t >= 0.0) & (t <= 1.0) & (self.length[which] > 0.0)
        near = np.minimum(
            np.hypot(*(points - self.start[which]).T), np.hypot(*(points - self.end[which]).T)
        )
        rim = np.abs(np.hypot(*(points - self.center[which]).T) - self.radius[which])
        ux, uy = self.direction[which].T
        dx, dy = (points - self.start[which]).T
        beside = np.abs(dy * ux - dx * uy)
        out: Floats = np.where(inside, np.where(self.round[which], rim, beside), near)
        return out

    def distances_to_all(self, points: Floats) -> Floats:
        """Return the distance of each of k points from each of the n curves; shape (k, n)."""
        k, n = len(points), len(self)
        which = np.tile(np.arange(n), k)
        return self.distances(which, np.repeat(points, n, axis=0)).reshape(k, n)


PORTION = 2_000_000
"""Pairs looked at in one go: large enough for columns to pay, small enough for memory."""


def portions(count: Ints, most: int = PORTION) -> Iterator[Ints]:
    """Yield runs of row numbers whose counts come to about `most` together."""
    before = np.cumsum(count)
    first = 0
    while first < len(count):
        done = before[first - 1] if first else 0
        check()
        last = max(first + 1, int(np.searchsorted(before, done + most, side="right")))
        yield np.arange(first, last)
        first = last


def pairs(boxes: Floats, margin: float) -> tuple[Ints, Ints]:
    """Return i < j of all pairs whose boxes, grown by `margin`, share a place."""
    parts = list(pair_portions(boxes, margin))
    if not parts:
        return np.zeros(0, np.intp), np.zeros(0, np.intp)
    i, j = (np.concatenate(column) for column in zip(*parts, strict=True))
    return i, j


def pair_portions(boxes: Floats, margin: float) -> Iterator[tuple[Ints, Ints]]:
    """Yield the pairs of `pairs` in portions, in the same order: by left sides."""
    order = np.argsort(boxes[:, 0], kind="stable")
    x0, y0, x1, y1 = boxes[order].T
    count = _followers(x0, x1 + margin)
    upward = np.argsort(y0, kind="stable")
    if 8 * _followers(y0[upward], y1[upward] + margin).sum() < count.sum():
        yield _stacked(boxes, order, upward, margin)
        return
    for rows in portions(count):
        i = np.repeat(rows, count[rows])
        offset = np.repeat(np.cumsum(count[rows]) - count[rows], count[rows])
        j = i + 1 + (np.arange(len(i)) - offset)
        keep = (y0[i] <= y1[j] + margin) & (y0[j] <= y1[i] + margin)
        a, b = order[i[keep]], order[j[keep]]
        yield np.minimum(a, b), np.maximum(a, b)


def pairs_between(
    ones: Floats, others: Floats, margin: float
) -> Iterator[tuple[Ints, Ints]]:
    """Yield, in portions, the pairs of a box among `ones` and one among `others` that come near.

    As in `pairs`, both count as grown by `margin`; in no particular order.

    Parameters
    ----------
    ones, others : float array, shape (n, 4) and (m, 4)
        Boxes as left, bottom, right, top.
    margin : float
        Length in the boxes' unit.

    Returns
    -------
    iterator of (int array, int array), both of shape (k,)
        Rows of `ones` and of `others`; each pair comes once.
    """
    # Along the axis on which fewer of them stand side by side.
    turned = ones[:, [1, 0, 3, 2]], others[:, [1, 0, 3, 2]]
    if _abreast(*turned, margin) < _abreast(ones, others, margin):
        ones, others = turned
    yield from _begun_within(ones, others, margin, "left")
    for j, i in _begun_within(others, ones, margin, "right"):
        yield i, j


def _abreast(ones: Floats, others: Floats, margin: float) -> int:
    """How many pairs of boxes share a stretch of the first axis."""
    begun = np.searchsorted(np.sort(others[:, 0]), ones[:, 2] + margin, side="right")
    ended = np.searchsorted(np.sort(others[:, 2]), ones[:, 0] - margin, side="left")
    return int(begun.sum() - ended.sum())


def _begun_within(
    ones: Floats, others: Floats, margin: float, side: Literal["left", "right"]
) -> Iterator[tuple[Ints, Ints]]:
    """Pairs in which the second box begins, from the left, before the first one has ended."""
    order = np.argsort(others[:, 0], kind="stable")
    x0 = others[order, 0]
    # Two that begin at one place are counted once, on the left side.
    first = np.searchsorted(x0, ones[:, 0], side=side)
    count = np.maximum(np.searchsorted(x0, ones[:, 2] + margin, side="right") - first, 0)
    for rows in portions(count):
        i = np.repeat(rows, count[rows])
        offset = np.repeat(np.cumsum(count[rows]) - count[rows], count[rows])
        j = order[first[i] + np.arange(len(i)) - offset]
        keep = (ones[i, 1] <= others[j, 3] + margin) & (others[j, 1] <= ones[i, 3] + margin)
        yield i[keep], j[keep]


def _followers(low: Floats, high: Floats) -> Ints:
    """How many of the boxes behind each one, sorted by `low`, begin before it ends."""
    # After sorting, those that begin before a box ends follow it in one run.
    last = np.searchsorted(low, high, side="right")
    out: Ints = np.maximum(last - np.arange(len(low)) - 1, 0)
    return out


def _stacked(
    boxes: Floats, order: Ints, upward: Ints, margin: float
) -> tuple[Ints, Ints]:
    """Pairs of boxes that stand over each other, found from below, in the order by left sides."""
    turned = boxes[order][upward][:, [1, 0, 3, 2]]
    found = [np.stack(portion) for portion in pair_portions(turned, margin)]
    i, j = np.concatenate(found, axis=1) if found else np.zeros((2, 0), np.intp)
    i, j = upward[i], upward[j]
    first, second = np.minimum(i, j), np.maximum(i, j)
    by_left = np.lexsort((second, first))
    a, b = order[first[by_left]], order[second[by_left]]
    return np.minimum(a, b), np.maximum(a, b)


def _row(curve: Curve) -> tuple[float, ...]:
    if isinstance(curve, Line):
        (x0, y0), (x1, y1) = curve.start, curve.end
        return (0.0, x0, y0, x1, y1, 0.0, 0.0, 0.0, 0.0, 1.0, curve.length, *curve.direction)
    (cx, cy), r = curve.center, curve.radius
    if isinstance(curve, Arc):
        ends = (*curve.start, *curve.end)
        return (1.0, *ends, cx, cy, r, curve.start_angle, curve.sweep, curve.length, 0.0, 0.0)
    assert isinstance(curve, Circle)
    return (2.0, cx + r, cy, cx + r, cy, cx, cy, r, 0.0, tau, curve.length, 0.0, 0.0)
