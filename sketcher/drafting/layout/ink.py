"""Ink in arrays, and what it costs to put more of it beside what is there.

Lines are straight pieces, whole circles stay circles, lettering is one box. Everything is judged in
batches: pairs that are far from each other fall out by their boxes, the few others are looked at
exactly. What two dimensions cost beside each other does not depend on which of them came first.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import acos, ceil, cos, pi, sin
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sketcher.geometry.curves import Circle, Curve, Line

Array: TypeAlias = NDArray[np.float64]
Ints: TypeAlias = NDArray[np.intp]
Bools: TypeAlias = NDArray[np.bool_]
Corners: TypeAlias = tuple[Array, Array]
"""Lower and upper corners of level boxes, each as columns x and y (2, n)."""
NONE: Ints = np.zeros(0, np.intp)

OUTLINE, HOLE, CENTER, PLUS, FAINT, DIMENSION, EXTENSION, LEADER, ELBOW = range(9)
KINDS = 9

HARD = 1000.0
"""Two lines that must not cross: four hundred times a row further out, so no number of rows or
millimetres of leader outweighs it."""
NEVER = 10.0 * HARD
"""Lettering on a line is worse than any crossing: it cannot be read."""
PLUS_COVERED = 150.0  # worse than a hole crossed: the mark is where one measures from

CROSS = np.zeros((KINDS, KINDS))
"""What one crossing costs, new kind by kind that is there. A row further out costs 0.35 and a
millimetre of leader 0.12, so an extension line goes to the other side of the part to miss a hole
(14 for each of its edges) or crosses a leader instead, and a leader turns elsewhere. Extension
lines may cross each other and the outline."""
for _new, _there, _cost in (
    (DIMENSION, OUTLINE, 5.0), (DIMENSION, HOLE, 18.0), (DIMENSION, CENTER, 1.0),
    (DIMENSION, FAINT, 0.3), (DIMENSION, DIMENSION, HARD), (DIMENSION, EXTENSION, HARD),
    (DIMENSION, LEADER, HARD), (DIMENSION, ELBOW, HARD),
    (EXTENSION, OUTLINE, 1.0), (EXTENSION, HOLE, 14.0), (EXTENSION, CENTER, 0.2),
    (EXTENSION, FAINT, 0.1), (EXTENSION, EXTENSION, 0.6), (EXTENSION, LEADER, 25.0),
    (EXTENSION, ELBOW, 200.0),
    (LEADER, OUTLINE, 2.0), (LEADER, HOLE, 18.0), (LEADER, CENTER, 0.5), (LEADER, FAINT, 0.2),
    (LEADER, LEADER, HARD), (LEADER, ELBOW, HARD),
    (ELBOW, OUTLINE, 30.0), (ELBOW, HOLE, 30.0), (ELBOW, CENTER, 4.0), (ELBOW, FAINT, 0.5),
    (ELBOW, ELBOW, HARD),
):
    CROSS[_new, _there] = CROSS[_there, _new] = _cost

APART = 5.5  # dimension lines closer than this in one direction crowd each other
# How near two lines may run side by side, and what it costs, by kinds.
NEAREST, CROWDING = np.zeros((KINDS, KINDS)), np.zeros((KINDS, KINDS))
for _new, _there, _apart, _cost in (
    (DIMENSION, DIMENSION, APART, HARD), (DIMENSION, LEADER, 1.5, HARD),
    (DIMENSION, ELBOW, 1.5, HARD), (DIMENSION, OUTLINE, 4.0, 30.0), (DIMENSION, HOLE, 2.0, 30.0),
    (DIMENSION, CENTER, 0.8, HARD), (DIMENSION, EXTENSION, 0.8, HARD),
    (LEADER, LEADER, 1.5, HARD), (LEADER, OUTLINE, 1.5, 30.0), (LEADER, HOLE, 1.5, 30.0),
    (LEADER, CENTER, 0.8, HARD), (LEADER, EXTENSION, 1.0, HARD), (LEADER, ELBOW, 1.5, HARD),
    (ELBOW, OUTLINE, 1.5, 30.0), (ELBOW, HOLE, 1.5, 30.0), (ELBOW, CENTER, 0.8, HARD),
    (ELBOW, EXTENSION, 1.0, HARD), (ELBOW, ELBOW, 1.5, HARD),
    (EXTENSION, OUTLINE, 0.8, 20.0), (EXTENSION, HOLE, 0.8, 20.0), (EXTENSION, CENTER, 0.8, 200.0),
):
    for _a, _b in ((_new, _there), (_there, _new)):
        NEAREST[_a, _b], CROWDING[_a, _b] = _apart, _cost

SHRINK = 0.3  # lines that only touch end to end do not cross
PARALLEL, SHARED = 0.05, 0.5  # sine of the angle, and mm, from which lines run side by side
SLANTED, FOLLOWING, FOLLOWS = 0.25, 3.0, 8.0
"""Sine and mm up to which a leader follows a dimension line, and what that costs."""
REACH = NEAREST.max(axis=1)  # by kind, how far a line looks for others beside it
REACH[LEADER] = FOLLOWING
MARGIN = 0.8  # clear space around lettering
ROOMY = 1.0  # likewise where one looks for what may come near it
APART_IN_LINE = 2.0
"""mm between two letterings that stand side by side: with less they are read as one."""
SAGITTA = 0.05  # mm by which a chord may leave its arc: a fifth of a thin line
PASSING = 0.8  # mm: a line nearer to a hole than this grazes it, which is no better than through
CALL = 20_000  # pairs of pieces that take as long as what every call does besides
FAINT_TEXT = 3.0
"""Lettering over a construction line of the screen: it is read through such a line, yet stands
better beside it."""


def chords(curve: Curve, most: int | None = None) -> list[tuple[float, float, float, float]]:
    """Return a curve as straight pieces that leave it by at most `SAGITTA` mm.

    With `most` there are no more than that, and those of a large arc leave it further.
    """
    if isinstance(curve, Line):
        return [(*curve.start, *curve.end)]
    start, sweep = (0.0, 2 * pi) if isinstance(curve, Circle) else (curve.start_angle, curve.sweep)
    (cx, cy), r = curve.center, curve.radius
    step = min(pi / 8, 2.0 * acos(max(0.0, 1.0 - SAGITTA / r))) if r > SAGITTA else pi / 2
    count = max(1, ceil(abs(sweep) / step))
    count = count if most is None else min(count, most)
    at = [(cx + r * cos(start + sweep * k / count), cy + r * sin(start + sweep * k / count))
          for k in range(count + 1)]
    return [(*a, *b) for a, b in itertools.pairwise(at)]


@dataclass
class Batch:
    """Places of one or more dimensions as ink.

    Parameters
    ----------
    pieces : float (m, 4)
        Straight pieces.
    kinds, place : int (m,)
        Kind of each, and number of the place that it belongs to.
    boxes : float (n, 6)
        One box of lettering for each place: middle, unit direction of reading, half width and half
        height without clear space.
    are_drawn_in : bool
        Whether the pieces are already a little shorter than what is drawn.
    """

    pieces: Array
    kinds: Ints
    place: Ints
    boxes: Array
    are_drawn_in: bool = False

    def __post_init__(self) -> None:
        """Draw the pieces in a little."""
        if not self.are_drawn_in:
            self.pieces = drawn_in(self.pieces)

    @cached_property
    def around(self) -> Corners:
        """Level boxes around the pieces."""
        return around_pieces(self.pieces)

    @cached_property
    def reaching(self) -> Corners:
        """Level boxes in which the pieces look for lines beside them."""
        reach = REACH[self.kinds]
        return self.around[0] - reach, self.around[1] + reach

    @cached_property
    def roomy(self) -> Corners:
        """Level boxes around the lettering with its clear space."""
        return around(self.boxes, ROOMY)

    @property
    def count(self) -> int:
        """Number of places."""
        return len(self.boxes)

    def only(self, place: int) -> tuple[Array, Ints, Array]:
        """Return pieces, kinds and box of one place."""
        mine = self.place == place
        return self.pieces[mine], self.kinds[mine], self.boxes[place]


def joined(batches: Sequence[Batch]) -> Batch:
    """Return several batches as one; the places are counted on."""
    first = np.cumsum([0, *(b.count for b in batches)])
    return Batch(np.concatenate([b.pieces for b in batches]),
                 np.concatenate([b.kinds for b in batches]),
                 np.concatenate([b.place + k for b, k in zip(batches, first, strict=False)]),
                 np.concatenate([b.boxes for b in batches]), True)


def drawn_in(pieces: Array) -> Array:
    """Return pieces a little shorter at both ends."""
    way = pieces[:, 2:] - pieces[:, :2]
    length = np.hypot(way[:, 0], way[:, 1])
    cut = (np.minimum(SHRINK, 0.4 * length) / np.where(length > 0.0, length, 1.0))[:, None] * way
    return np.concatenate((pieces[:, :2] + cut, pieces[:, 2:] - cut), axis=1)


def around_pieces(pieces: Array) -> Corners:
    """Return the corners of level boxes around straight pieces, as columns."""
    one, other = pieces.T[:2], pieces.T[2:]
    return np.minimum(one, other), np.maximum(one, other)


def around(boxes: Array, margin: float) -> Corners:
    """Return the corners of level boxes around boxes of lettering, as columns."""
    columns = boxes.T
    c, s = np.abs(columns[2:4])
    wide, tall = columns[4:] + margin
    half = np.empty((2, len(boxes)))
    half[0], half[1] = c * wide + s * tall, s * wide + c * tall
    return columns[:2] - half, columns[:2] + half


class Ink:
    """What is there, in columns: pieces, circles and boxes of lettering, each with its owner.

    Parameters
    ----------
    pieces : float (p, 4)
    kinds, owners : int (p,)
    boxes : float (b, 6)
    box_owners : int (b,)
    circles : float (c, 3)
        Center and radius.
    circle_kinds : int (c,)
        `HOLE` and `PLUS` cost where a line comes into them, others where it crosses them.
    """

    def __init__(
        self, pieces: Array, kinds: Ints, owners: Ints, boxes: Array, box_owners: Ints,
        circles: Array, circle_kinds: Ints, count: int,
    ) -> None:
        self.pieces, self.kinds, self.owners = pieces, kinds, owners
        self.boxes, self.box_owners = boxes, box_owners
        self.circles, self.circle_kinds = circles, circle_kinds
        self.count = count
        self.looked = 0
        self._around, self._roomy = around_pieces(pieces), around(boxes, ROOMY)
        middle, reach = circles.T[:2], circles.T[2] + PASSING
        self._rounded = middle - reach, middle + reach

    def costs(self, batch: Batch) -> Array:
        """Return what each place of a batch costs beside each owner, shape (places, owners)."""
        size = self.count
        self.looked += CALL
        total = np.zeros(batch.count * size)
        self._crossings(batch, total)
        self._lettering(batch, total)
        if len(self.circles):
            self._rounds(batch, total)
        return total.reshape(batch.count, size)

    def _add(self, total: Array, place: Ints, owner: Ints, cost: Array | float) -> None:
        if len(place):
            weights = np.full(len(place), cost) if isinstance(cost, float) else cost
            total += np.bincount(place * self.count + owner, weights, len(total))

    def _crossings(self, batch: Batch, total: Array) -> None:
        """Add what lines cost that cross each other or run side by side."""
        i, j = self._near(batch.reaching, self._around)
        if not len(i):
            return
        a, b = batch.pieces[i], self.pieces[j]
        kind, there = batch.kinds[i], self.kinds[j]
        ax, ay = a[:, 2] - a[:, 0], a[:, 3] - a[:, 1]
        bx, by = b[:, 2] - b[:, 0], b[:, 3] - b[:, 1]
        px, py = b[:, 0] - a[:, 0], b[:, 1] - a[:, 1]
        # Sides of b's ends on a, and of a's ends on b.
        b0, cross = ax * py - ay * px, ax * by - ay * bx
        b1 = b0 + cross
        a0 = py * bx - px * by
        a1 = a0 + cross
        cost = np.where((b0 * b1 < 0.0) & (a0 * a1 < 0.0), CROSS[kind, there], 0.0)
        la, lb = np.hypot(ax, ay), np.hypot(bx, by)
        side = ((np.abs(cross) < SLANTED * la * lb) & (la > 0.0)).nonzero()[0]
        if len(side):
            cost[side] += _side_by_side(a[side], b[side], la[side], lb[side],
                                        kind[side], there[side])
        hit = cost.nonzero()[0]
        self._add(total, batch.place[i[hit]], self.owners[j[hit]], cost[hit])

    def _lettering(self, batch: Batch, total: Array) -> None:
        """Add what it costs that lettering stands on lines or on other lettering."""
        i, j = self._near(batch.roomy, self._around)
        if len(i):
            on = cut(batch.boxes[i], self.pieces[j], MARGIN)
            i, j = i[on], j[on]
            self._add(total, i, self.owners[j],
                      np.where(self.kinds[j] == FAINT, FAINT_TEXT, NEVER))
        if len(self.boxes):
            i, j = self._near(batch.around, self._roomy)
            if len(i):
                on = cut(self.boxes[j], batch.pieces[i], MARGIN)
                self._add(total, batch.place[i[on]], self.box_owners[j[on]], NEVER)
            i, j = self._near(batch.roomy, self._roomy)
            if len(i):
                on = overlap(batch.boxes[i], self.boxes[j], MARGIN, APART_IN_LINE)
                self._add(total, i[on], self.box_owners[j[on]], NEVER)

    def _rounds(self, batch: Batch, total: Array) -> None:
        """Add what circles cost: through holes, over marks, across, under lettering."""
        nobody = self.count - 1
        i, j = self._near(batch.around, self._rounded)
        if len(i):
            a, kind, there = batch.pieces[i], batch.kinds[i], self.circle_kinds[j]
            x, y, r = self.circles[j].T
            wx, wy = a[:, 2] - a[:, 0], a[:, 3] - a[:, 1]
            px, py = x - a[:, 0], y - a[:, 1]
            size = np.maximum(wx * wx + wy * wy, 1e-18)
            t = np.clip((px * wx + py * wy) / size, 0.0, 1.0)
            away = np.hypot(px - t * wx, py - t * wy)
            off = np.abs(px * wy - py * wx) / np.sqrt(size)
            far = np.maximum(np.hypot(px, py), np.hypot(px - wx, py - wy))
            # Across its own hole a diameter is measured; an extension line never begins within.
            into = (there == HOLE) & (away < r + PASSING) & ((off > 0.02) | (kind == EXTENSION))
            over = (there == PLUS) & (away < r)
            across = (there != HOLE) & (there != PLUS) & (away < r) & (far > r)
            cost = np.where(into, 2.0 * CROSS[kind, HOLE], 0.0)
            cost += np.where(over, PLUS_COVERED, 0.0)
            cost += np.where(across, CROSS[kind, there], 0.0)
            total += np.bincount(batch.place[i] * self.count + nobody, cost, len(total))
        i, j = self._near(batch.roomy, self._rounded)
        if len(i):
            box, (x, y, r) = batch.boxes[i], self.circles[j].T
            px, py = x - box[:, 0], y - box[:, 1]
            s = np.abs(px * box[:, 2] + py * box[:, 3])
            t = np.abs(py * box[:, 2] - px * box[:, 3])
            wide, tall = box[:, 4] + MARGIN, box[:, 5] + MARGIN
            least = np.hypot(np.maximum(s - wide, 0.0), np.maximum(t - tall, 0.0))
            most = np.hypot(s + wide, t + tall)
            on = ((least < r) & (most > r)).nonzero()[0]
            self._add(total, i[on], np.full(len(on), nobody), NEVER)

    def _near(self, ones: Corners, others: Corners) -> tuple[Ints, Ints]:
        """Return the pairs whose boxes meet."""
        (x0, y0), (x1, y1) = ones
        (left, low), (right, high) = others
        if not len(x0) or not len(left):
            return NONE, NONE
        some = ((left <= x1.max()) & (right >= x0.min())
                              & (low <= y1.max()) & (high >= y0.min())).nonzero()[0]
        self.looked += len(x0) * len(some)
        if not len(some):
            return NONE, NONE
        found = x0[:, None] <= right[some]
        found &= x1[:, None] >= left[some]
        found &= y0[:, None] <= high[some]
        found &= y1[:, None] >= low[some]
        # Flat numbers are found several times as fast as pairs of them.
        i, j = np.divmod(found.ravel().nonzero()[0], len(some))
        return i, some[j]


def _side_by_side(a: Array, b: Array, la: Array, lb: Array, kind: Ints, there: Ints) -> Array:
    """Return what pairs of nearly parallel pieces with lengths cost; as seen from the longer."""
    swap = (lb > la)[:, None]
    one, other = np.where(swap, b, a), np.where(swap, a, b)
    length = np.maximum(la, lb)
    ux, uy = ((one[:, 2:] - one[:, :2]) / length[:, None]).T
    x0, y0 = (other[:, :2] - one[:, :2]).T
    x1, y1 = (other[:, 2:] - one[:, :2]).T
    s0, s1 = x0 * ux + y0 * uy, x1 * ux + y1 * uy
    v0, v1 = y0 * ux - x0 * uy, y1 * ux - x1 * uy
    shared = np.minimum(np.maximum(s0, s1), length) - np.maximum(np.minimum(s0, s1), 0.0)
    away = np.minimum(np.abs(v0), np.abs(v1))
    slant = np.abs(v1 - v0) / np.maximum(np.minimum(la, lb), 1e-12)
    long = (length > 3.0) & (shared > SHARED)
    beside = long & (slant < PARALLEL) & (away < NEAREST[kind, there])
    # A leader that nearly follows a dimension line is read as one.
    follows = long & (away < FOLLOWING) & ((kind == LEADER) & (there == DIMENSION)
                                     | (kind == DIMENSION) & (there == LEADER))
    cost: Array = np.where(beside, CROWDING[kind, there], 0.0) + np.where(follows, FOLLOWS, 0.0)
    return cost


class Standing(Ink):
    """The ink of the dimensions that stand: each has rows of its own, written when it is placed.

    Parameters
    ----------
    sizes : sequence of int
        For each dimension the most pieces that it may have.
    """

    def __init__(self, sizes: Sequence[int]) -> None:
        count = len(sizes)
        self._first = np.concatenate(([0], np.cumsum(sizes))).astype(int)
        owners = np.repeat(np.arange(count), sizes)
        nowhere = np.full((self._first[-1], 4), np.nan)
        super().__init__(nowhere, np.full(len(owners), EXTENSION), owners,
                         np.full((count, 6), np.nan), np.arange(count),
                         np.zeros((0, 3)), np.zeros(0, np.intp), count)

    def put(self, owner: int, pieces: Array, kinds: Ints, box: Array) -> None:
        """Let a dimension stand somewhere."""
        first, end = self._first[owner], self._first[owner + 1]
        self.pieces[first:end] = np.nan
        self.pieces[first:first + len(pieces)] = pieces
        self.kinds[first:first + len(pieces)] = kinds
        self.boxes[owner] = box
        for kept, new in zip(self._around, around_pieces(self.pieces[first:end]), strict=True):
            kept[:, first:end] = new
        for kept, new in zip(self._roomy, around(box[None], ROOMY), strict=True):
            kept[:, owner:owner + 1] = new


def cut(boxes: Array, pieces: Array, margin: float) -> Ints:
    """Return the pairs in which a piece comes into a box of lettering, with clear space."""
    ux, uy = boxes[:, 2], boxes[:, 3]
    x, y = pieces[:, 0] - boxes[:, 0], pieces[:, 1] - boxes[:, 1]
    wx, wy = pieces[:, 2] - pieces[:, 0], pieces[:, 3] - pieces[:, 1]
    low, high = np.zeros(len(boxes)), np.ones(len(boxes))
    for start, step, half in ((x * ux + y * uy, wx * ux + wy * uy, boxes[:, 4] + margin),
                              (y * ux - x * uy, wy * ux - wx * uy, boxes[:, 5] + margin)):
        step = np.where(np.abs(step) < 1e-12, 1e-12, step)
        one, other = (-half - start) / step, (half - start) / step
        low = np.maximum(low, np.minimum(one, other))
        high = np.minimum(high, np.maximum(one, other))
    return (low < high).nonzero()[0]


def overlap(ones: Array, others: Array, apart: float, in_line: float) -> Ints:
    """Return the pairs of boxes that are not apart (separating axes of both).

    `apart` is the clear space across the way of reading, `in_line` along it.
    """
    meet = np.ones(len(ones), bool)
    dx, dy = others[:, 0] - ones[:, 0], others[:, 1] - ones[:, 1]
    c = np.abs(ones[:, 2] * others[:, 2] + ones[:, 3] * others[:, 3])
    s = np.abs(ones[:, 2] * others[:, 3] - ones[:, 3] * others[:, 2])
    for ux, uy, own, other, room in (
        (ones[:, 2], ones[:, 3], ones[:, 4], others[:, 4] * c + others[:, 5] * s, in_line),
        (-ones[:, 3], ones[:, 2], ones[:, 5], others[:, 4] * s + others[:, 5] * c, apart),
        (others[:, 2], others[:, 3], others[:, 4], ones[:, 4] * c + ones[:, 5] * s, in_line),
        (-others[:, 3], others[:, 2], others[:, 5], ones[:, 4] * s + ones[:, 5] * c, apart),
    ):
        meet &= np.abs(dx * ux + dy * uy) < own + other + room
    return meet.nonzero()[0]


def pieces_of(curves: Iterable[tuple[Curve, int]]) -> tuple[Array, Ints]:
    """Return curves with their kinds as straight pieces with theirs."""
    rows: list[tuple[float, float, float, float]] = []
    kinds: list[int] = []
    for curve, kind in curves:
        found = chords(curve)
        rows += found
        kinds += [kind] * len(found)
    return np.array(rows, float).reshape(-1, 4), np.array(kinds, np.intp)
