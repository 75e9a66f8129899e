"""The places that one dimension may take, and what each costs beside what is on the paper.

Places are drawn and judged in batches, the cheapest by themselves first, so that a dimension with a
free place near by is soon done. What the places of a batch cost beside one other dimension is kept:
in every order that is tried, the same neighbours come again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.field import (
    APART,
    CENTER,
    COST,
    DIMENSION,
    EXTENSION,
    HARD,
    LEADER,
    NEVER,
    OUTLINE,
    TEXT,
    Array,
    Ink,
    ink_of,
    own_overlaps,
    shrunk,
)
from sketcher.drafting.primitives import Item
from sketcher.geometry.curve_table import Bools, Ints
from sketcher.interrupt import check

if TYPE_CHECKING:
    from shapely import STRtree

Place: TypeAlias = tuple[float, Callable[[], Drawn]]

FIRST, TIMES = 12, 3
"""Places in the first batch, and by how much each further one is larger."""

SMALL = 100_000  # pairs of boxes that are compared at once
CROWD = 30_000
"""Places drawn for all dimensions together, some 10 kB each, above which only the first batch of a
dimension is looked at: there are hundreds of them, and no room for any."""
PORTION = 2_000  # boxes asked about in one go where there are more
ALONG = 0.8  # how near an extension line may run beside an edge or a dimension line, in mm

# How near a dimension line or a leader may run beside a line of each kind, and what it costs.
NEAREST, CROWDING = np.zeros(6), np.zeros(6)
for _kind, _apart, _cost in ((DIMENSION, APART, HARD), (LEADER, 1.5, HARD), (OUTLINE, 4.0, 30.0),
                             (CENTER, 0.8, HARD), (EXTENSION, 1.0, HARD)):
    NEAREST[_kind], CROWDING[_kind] = _apart, _cost


@dataclass(frozen=True)
class Laid:
    """Ink of several things in columns; `group` and `box_group` number the thing."""

    pieces: Array
    kinds: Ints
    group: Ints
    boxes: Array
    box_group: Ints
    count: int

    @staticmethod
    def of(inks: Sequence[Ink]) -> Laid:
        """Put the ink of several things into columns, lines drawn in a little at their ends."""
        every = np.arange(len(inks))
        whole = Ink(*(np.concatenate([getattr(ink, name) for ink in inks])
                      for name in ("pieces", "ends", "kinds", "boxes")))
        return Laid(shrunk(whole), whole.kinds, np.repeat(every, [len(i.pieces) for i in inks]),
                    whole.boxes, np.repeat(every, [len(i.boxes) for i in inks]), len(inks))

    @cached_property
    def length(self) -> Array:
        """Length of the pieces."""
        way = self.pieces[:, 2:] - self.pieces[:, :2]
        return np.asarray(np.hypot(way[:, 0], way[:, 1]))

    @cached_property
    def bounds(self) -> Bounds:
        """Boxes around the n pieces."""
        one, other = self.pieces[:, :2], self.pieces[:, 2:]
        return Bounds(np.concatenate((np.minimum(one, other), np.maximum(one, other)), axis=1))

    @cached_property
    def box_bounds(self) -> Bounds:
        """Level boxes around the m boxes of lettering."""
        return Bounds(np.concatenate((self.boxes.min(axis=1), self.boxes.max(axis=1)), axis=1))


class Bounds:
    """Boxes (n, 4) that are asked many times which of them others come near."""

    def __init__(self, boxes: Array) -> None:
        self.boxes = boxes

    @cached_property
    def _tree(self) -> STRtree:
        from shapely import STRtree, box

        return STRtree(box(*self.boxes.T))

    def near(
        self, others: Array, margin: float, kept: Bools | None = None
    ) -> Iterator[tuple[Ints, Ints]]:
        """Yield, in portions, the pairs (other, own) of boxes closer than `margin` on both axes.

        Parameters
        ----------
        others : array, shape (m, 4)
        margin : float
            In mm.
        kept : bool (n,), optional
            Which of the own ones count; all by default.
        """
        own = np.arange(len(self.boxes)) if kept is None else np.flatnonzero(kept)
        if len(others) * len(own) <= SMALL:
            x0, y0, x1, y1 = self.boxes[own].T
            found = ((others[:, 0:1] <= x1 + margin) & (others[:, 2:3] >= x0 - margin)
                     & (others[:, 1:2] <= y1 + margin) & (others[:, 3:4] >= y0 - margin))
            i, j = np.nonzero(found)
            yield i, own[j]
            return
        low, high = others[:, :2] - margin, others[:, 2:] + margin
        from shapely import box

        for first in range(0, len(others), PORTION):
            check()
            some = slice(first, first + PORTION)
            i, j = self._tree.query(box(*low[some].T, *high[some].T))
            near = slice(None) if kept is None else kept[j]
            yield i[near] + first, j[near]


def toll(mine: Laid, there: Laid) -> tuple[Array, Bools]:
    """Return what it costs to draw things beside others.

    Returns
    -------
    cost : float (mine.count, there.count)
        Crossings, crowding, and lettering of `there` that stands on mine.
    held : bool (boxes of mine, there.count)
        Which lettering of mine stands on which other thing.
    """
    size = there.count
    total = np.zeros(mine.count * size)
    kinds = there.kinds
    long = mine.length > 3.0
    runs = np.flatnonzero((mine.kinds == LEADER) | ((mine.kinds == DIMENSION) & long))
    reaching = np.flatnonzero(mine.kinds == EXTENSION)
    lines = kinds != TEXT
    walls = (kinds == OUTLINE) | (kinds == DIMENSION)
    for ones, others, margin, judge in (
        (np.arange(len(mine.kinds)), None, 0.0, _crossing),
        (runs, lines, APART, _crowding), (reaching, walls, ALONG, _along),
    ):
        for i, j in there.bounds.near(mine.bounds.boxes[ones], margin, others):
            i = ones[i]
            total += np.bincount(mine.group[i] * size + there.group[j],
                                 judge(mine, there, i, j), len(total))
    for k, i in _standing(there, mine):
        # A box is counted once, however many lines run through it.
        once = np.unique(mine.group[i] * len(there.boxes) + k)
        at, box = np.divmod(once, max(1, len(there.boxes)))
        total += NEVER * np.bincount(at * size + there.box_group[box], minlength=len(total))
    held = np.zeros((len(mine.boxes), size), bool)
    for k, j in _standing(mine, there):
        held[k, there.group[j]] = True
    return total.reshape(mine.count, size), held


def _crossing(mine: Laid, there: Laid, i: Ints, j: Ints) -> Array:
    """What the proper crossings of pairs of pieces cost."""
    a, b = mine.pieces[i], there.pieces[j]
    crossed = (_side(a, b[:, :2]) * _side(a, b[:, 2:]) < 0.0) & (
        _side(b, a[:, :2]) * _side(b, a[:, 2:]) < 0.0)
    out: Array = np.where(crossed, COST[mine.kinds[i], there.kinds[j]], 0.0)
    return out


def _side(line: Array, at: Array) -> Array:
    out: Array = ((line[:, 2] - line[:, 0]) * (at[:, 1] - line[:, 1])
                  - (line[:, 3] - line[:, 1]) * (at[:, 0] - line[:, 0]))
    return out


def _crowding(mine: Laid, there: Laid, i: Ints, j: Ints) -> Array:
    """Dimension lines and leaders too near other lines, along an outline or along a center line."""
    out = np.zeros(len(i))
    k, slant, shared, away = _beside(mine.pieces, there.pieces, i, j, 0.25)
    i, j = i[k], j[k]
    own, other = mine.kinds[i], there.kinds[j]
    side = shared > 0.5
    near = side & (slant < 0.05) & (away < NEAREST[other]) & (mine.length[i] > 3.0)
    # A leader that nearly follows a dimension line is read as one.
    follows = (own == LEADER) & (other == DIMENSION) | (own == DIMENSION) & (other == LEADER)
    follows &= side & (slant < 0.25) & (away < 3.0)
    out[k] = np.where(near, CROWDING[other], 0.0) + np.where(follows, 8.0, 0.0)
    return out


def _along(mine: Laid, there: Laid, i: Ints, j: Ints) -> Array:
    """Extension lines that run along an outline or a dimension line."""
    out = np.zeros(len(i))
    k, slant, shared, away = _beside(mine.pieces, there.pieces, i, j, 0.05)
    out[k] = np.where((shared > 0.5) & (slant < 0.05) & (away < ALONG), 20.0, 0.0)
    return out


def _beside(
    ones: Array, others: Array, i: Ints, j: Ints, most: float
) -> tuple[Ints, Array, Array, Array]:
    """Compare pairs of pieces that run nearly one way.

    Returns
    -------
    kept : int (n,)
        The pairs whose slant is below `most`.
    slant, shared, away : float (n,)
        Sine of the angle between the two, how far the other runs along the one, and how near it
        comes.
    """
    way, across = ones[:, 2:] - ones[:, :2], others[:, 2:] - others[:, :2]
    size, other = np.hypot(way[:, 0], way[:, 1]), np.hypot(across[:, 0], across[:, 1])
    unit = way / np.where(size > 0.0, size, 1.0)[:, None]
    cross = across / np.where(other > 0.0, other, 1.0)[:, None]
    slant = np.abs(unit[i, 0] * cross[j, 1] - unit[i, 1] * cross[j, 0])
    kept = np.flatnonzero((slant < most) & (other > 0.0)[j])
    i, j = i[kept], j[kept]
    a, b, length = ones[i], others[j], size[i]
    u, v = unit[i].T
    x0, y0 = (b[:, :2] - a[:, :2]).T
    x1, y1 = (b[:, 2:] - a[:, :2]).T
    s0, s1 = x0 * u + y0 * v, x1 * u + y1 * v
    shared = np.minimum(np.maximum(s0, s1), length) - np.maximum(np.minimum(s0, s1), 0.0)
    away = np.minimum(np.abs(x0 * v - y0 * u), np.abs(x1 * v - y1 * u))
    return kept, slant[kept], shared, away


def _standing(lettered: Laid, inked: Laid) -> Iterator[tuple[Ints, Ints]]:
    """Yield the pairs (box of lettering, piece with an end in it)."""
    if not len(lettered.boxes) or not len(inked.pieces):
        return
    for k, j in inked.bounds.near(lettered.box_bounds.boxes, 0.0):
        box, piece = lettered.boxes[k], inked.pieces[j]
        origin = box[:, 0]
        inside = np.zeros(len(k), bool)
        for end in (piece[:, :2], piece[:, 2:]):
            within = np.ones(len(k), bool)
            for side in (box[:, 1] - origin, box[:, 3] - origin):
                share = ((end - origin) * side).sum(axis=1) / (side * side).sum(axis=1)
                within &= (share > 0.0) & (share < 1.0)
            inside |= within
        yield k[inside], j[inside]


class Covered:
    """What is on the paper before the dimensions, and the ink of each dimension once drawn."""

    def __init__(self, items: Iterable[Item]) -> None:
        self.laid = Laid.of([ink_of(items)])
        self._inks: dict[int, tuple[Drawn, Ink]] = {}

    def hard(self, one: Drawn, others: Mapping[str, Drawn]) -> list[str]:
        """Return the names of those beside which a dimension must not stand."""
        cost, held = toll(Laid.of([self.ink(one)]),
                          Laid.of([self.ink(other) for other in others.values()]))
        bad = (cost[0] >= HARD) | held.any(axis=0)
        return [name for name, is_bad in zip(others, bad, strict=True) if is_bad]

    def ink(self, drawn: Drawn) -> Ink:
        """Return the ink of a dimension."""
        if id(drawn) not in self._inks:
            self._inks[id(drawn)] = (drawn, ink_of(drawn.items))  # held, so that no id comes again
        return self._inks[id(drawn)][1]

    @property
    def crowded(self) -> bool:
        """Whether so many places have been drawn that memory would run out."""
        return len(self._inks) > CROWD


class Batch:
    """Some places of one dimension, drawn."""

    def __init__(self, places: Sequence[Place], covered: Covered) -> None:
        check()
        self.drawn = [draw() for _, draw in places]
        self._covered = covered
        inks = [covered.ink(drawn) for drawn in self.drawn]
        self._laid = Laid.of(inks)
        own = np.array([cost for cost, _ in places])
        own += [own_overlaps(drawn, ink) if drawn.form == "angle" else 0.0
                for drawn, ink in zip(self.drawn, inks, strict=True)]
        cost, held = toll(self._laid, covered.laid)
        self._own, self._held = own + cost[:, 0], held[:, 0]
        self._known: dict[int, tuple[Array, Bools]] = {}

    def costs(self, others: Sequence[Drawn]) -> Array:
        """Return what each place costs beside other dimensions."""
        new = [other for other in others if id(other) not in self._known]
        if new:
            cost, held = toll(self._laid, Laid.of([self._covered.ink(o) for o in new]))
            for k, other in enumerate(new):
                self._known[id(other)] = (cost[:, k].copy(), held[:, k].copy())
        total, held = self._own.copy(), self._held.copy()
        for other in others:
            cost, on = self._known[id(other)]
            total += cost
            held |= on
        total += NEVER * np.bincount(self._laid.box_group[held], minlength=len(total))
        return total


class Candidates:
    """All places of one dimension, the cheapest by themselves first."""

    def __init__(self, places: Iterable[Place], covered: Covered) -> None:
        self._places = sorted(places, key=lambda place: place[0])
        self._covered = covered
        self._batches: list[Batch] = []
        self._done = 0

    def _batch(self, number: int) -> Batch:
        if number == len(self._batches):
            some = self._places[self._done : self._done + FIRST * TIMES**number]
            self._done += len(some)
            self._batches.append(Batch(some, self._covered))
        return self._batches[number]

    def best(self, others: Sequence[Drawn]) -> tuple[float, Drawn | None]:
        """Return the cheapest place beside other dimensions, and what it costs."""
        least, kept = float("inf"), None
        first, number = 0, 0
        while first < len(self._places) and self._places[first][0] < least:
            if kept is not None and number == len(self._batches) and self._covered.crowded:
                break
            batch = self._batch(number)
            costs = batch.costs(others)
            k = int(costs.argmin())
            if costs[k] < least:
                least, kept = float(costs[k]), batch.drawn[k]
            first, number = first + len(batch.drawn), number + 1
        return least, kept
