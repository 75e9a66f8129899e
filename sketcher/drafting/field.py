"""The paper as a field of obstacles, and what it costs to put a dimension somewhere on it."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil, cos, hypot, pi, sin
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.primitives import Fill, Item, Stroke, Text
from sketcher.geometry.curves import XY, Circle, Curve, Line

Array: TypeAlias = NDArray[np.float64]

OUTLINE, CENTER, DIMENSION, EXTENSION, TEXT, LEADER = range(6)
KINDS = {"visible": OUTLINE, "center": CENTER, "phantom": CENTER, "symmetry": CENTER,
         "dimension": DIMENSION, "extension": EXTENSION,
         "leader": LEADER}
HARD = 1000.0
NEVER = 10.0 * HARD  # lettering on a line is worse than a leader across one
# What one crossing costs: rows are the new item's kind, columns what is there already. Extension
# lines may cross each other and the outline, and where nothing else is left a leader may cross
# them; nothing crosses a dimension line or lettering.
COST = np.array([
    # outline center dimension extension text leader
    [0.0, 0.0, 0.0, 0.0, 0.0, 0.0],
    [0.0, 0.0, 0.0, 0.0, 0.0, 0.0],
    [2.0, 0.5, HARD, HARD, NEVER, HARD],
    [1.0, 0.2, HARD, 0.6, NEVER, 12.0],
    [NEVER, NEVER, NEVER, NEVER, NEVER, NEVER],
    [2.0, 0.5, HARD, 12.0, NEVER, HARD],
])
SHRINK = 0.3  # lines that only touch end to end do not cross
MARGIN = 0.8  # clear space around lettering
CHORD = pi / 24
APART = 5.5  # dimension lines closer than this in one direction crowd each other


@dataclass(slots=True)
class Ink:
    """Straight pieces (n, 4) with their kinds (n,), and boxes of lettering (m, 4, 2).

    `ends` (n, 2) is 1 where a piece's start or end is that of its whole line, 0 inside an arc.
    """

    pieces: Array
    ends: Array
    kinds: NDArray[np.intp]
    boxes: Array


def chords(curve: Curve) -> list[tuple[float, float, float, float]]:
    """Return a curve as straight pieces of at most 7.5 degrees."""
    if isinstance(curve, Line):
        return [(*curve.start, *curve.end)]
    start, sweep = (0.0, 2 * pi) if isinstance(curve, Circle) else (curve.start_angle, curve.sweep)
    count = max(1, ceil(abs(sweep) / CHORD))
    (cx, cy), r = curve.center, curve.radius
    at = [(cx + r * cos(start + sweep * k / count), cy + r * sin(start + sweep * k / count))
          for k in range(count + 1)]
    return [(*a, *b) for a, b in itertools.pairwise(at)]


def ink_of(items: Iterable[Item]) -> Ink:
    """Return what items of the display list cover."""
    pieces: list[tuple[float, float, float, float]] = []
    kinds: list[int] = []
    ends: list[tuple[int, int]] = []
    boxes: list[tuple[XY, XY, XY, XY]] = []
    for item in items:
        if isinstance(item, Stroke):
            found = chords(item.curve)
            pieces += found
            kinds += [KINDS.get(item.line, OUTLINE)] * len(found)
            last = len(found) - 1
            ends += [(int(k == 0), int(k == last)) for k in range(last + 1)]
        elif isinstance(item, Text):
            box = item.box(MARGIN)
            boxes.append(box)
            edges = [(0, 1), (1, 2), (2, 3), (3, 0), (0, 2), (1, 3)]
            pieces += [(*box[a], *box[b]) for a, b in edges]
            kinds += [TEXT] * len(edges)
            ends += [(0, 0)] * len(edges)
        elif isinstance(item, Fill):
            tip, *base = item.points
            pieces += [(*tip, *corner) for corner in base]
            kinds += [DIMENSION] * len(base)
            ends += [(1, 1)] * len(base)
    return Ink(np.array(pieces, float).reshape(-1, 4), np.array(ends, float).reshape(-1, 2),
               np.array(kinds, np.intp),
               np.array(boxes, float).reshape(-1, 4, 2))


def shrunk(ink: Ink) -> Array:
    """Pieces of lines drawn in a little at both ends; those of lettering as they are."""
    pieces = ink.pieces
    along = pieces[:, 2:] - pieces[:, :2]
    length = np.hypot(along[:, 0], along[:, 1])
    cut = np.minimum(SHRINK, 0.4 * length) / np.where(length > 0.0, length, 1.0)
    first, last = (cut[:, None] * ink.ends[:, k:k + 1] * along for k in (0, 1))
    return np.hstack([pieces[:, :2] + first, pieces[:, 2:] - last])


class Field:
    """What is on the paper so far."""

    def __init__(self, items: Iterable[Item]) -> None:
        ink = ink_of(items)
        self._pieces = shrunk(ink)
        self._measure()
        self._kinds = ink.kinds
        self._boxes = ink.boxes
        self._raster = Raster(ink.pieces)

    def add(self, items: Sequence[Item]) -> None:
        """Put items on the paper."""
        ink = ink_of(items)
        self._raster.add(ink.pieces)
        self._pieces = np.vstack([self._pieces, shrunk(ink)])
        self._measure()
        self._kinds = np.concatenate([self._kinds, ink.kinds])
        self._boxes = np.concatenate([self._boxes, ink.boxes])

    def _measure(self) -> None:
        self._low = np.minimum(self._pieces[:, :2], self._pieces[:, 2:])
        self._high = np.maximum(self._pieces[:, :2], self._pieces[:, 2:])

    def covered(self, drawn: Drawn) -> bool:
        """Tell quickly whether lettering would certainly stand on something; False is no proof."""
        return any(self._raster.covered(item.box()) for item in drawn.items
                   if isinstance(item, Text))

    def cost(self, drawn: Drawn, limit: float = float("inf")) -> float:
        """Return what it costs to draw a dimension; `HARD` or more where it must not stand.

        From `limit` on the cost is only a lower bound.
        """
        ink = ink_of(drawn.items)
        mine = shrunk(ink)
        total = own_overlaps(drawn, ink) if drawn.form == "angle" else 0.0
        long = ink.kinds == EXTENSION
        for group in (~long, long):  # extension lines reach far: what is near decides first
            if not group.any():
                continue
            near = self._near(mine[group])
            there, kinds = self._pieces[near], self._kinds[near]
            crossed = _crossing(mine[group], there)
            total += float((crossed * COST[ink.kinds[group]][:, kinds]).sum())
            if total >= limit:
                return total
            total += self._crowding(mine[group], ink.kinds[group], there, kinds)
            if group is not long:
                total += _inside(ink.boxes, there) * NEVER
            if total >= limit:
                return total
        return total + _inside(self._boxes, mine) * NEVER

    def _near(self, mine: Array) -> NDArray[np.bool_]:
        """Tell which pieces lie near some new ones."""
        x0, y0 = np.minimum(mine[:, :2], mine[:, 2:]).min(axis=0) - APART
        x1, y1 = np.maximum(mine[:, :2], mine[:, 2:]).max(axis=0) + APART
        low, high = self._low, self._high
        found: NDArray[np.bool_] = ((high[:, 0] >= x0) & (low[:, 0] <= x1)
                                    & (high[:, 1] >= y0) & (low[:, 1] <= y1))
        return found

    def _crowding(self, mine: Array, own: NDArray[np.intp], there: Array,
                  kinds: NDArray[np.intp]) -> float:
        """Dimension lines too near each other, along an outline or along a center line."""
        a = mine[(own == DIMENSION) | (own == LEADER)]
        long = np.hypot(a[:, 2] - a[:, 0], a[:, 3] - a[:, 1]) > 3.0
        a = a[long]
        rules = ((DIMENSION, APART, HARD), (LEADER, 1.5, HARD), (OUTLINE, 4.0, 30.0),
                 (CENTER, 0.8, HARD), (EXTENSION, 1.0, HARD))
        total = 0.0
        for kind, apart, cost in rules:
            b = there[kinds == kind]
            if len(a) and len(b):
                total += cost * _beside(a, b, apart)
        for mover, stander in ((LEADER, DIMENSION), (DIMENSION, LEADER)):
            a, b = mine[own == mover], there[kinds == stander]
            if len(a) and len(b):  # a leader that nearly follows a dimension line is read as one
                total += 8.0 * _beside(a, b, 3.0, 0.25)
        e = mine[own == EXTENSION]
        b = there[(kinds == OUTLINE) | (kinds == DIMENSION)]
        if len(e) and len(b):
            total += 20.0 * _beside(e, b, 0.8)
        return total


class Raster:
    """Cells of 1 mm that hold ink: a cheap first look before the exact check."""

    ROOM = 250  # cells around what is there first

    def __init__(self, pieces: Array) -> None:
        ends = pieces.reshape(-1, 2)
        low = np.floor(ends.min(axis=0)) if len(ends) else np.zeros(2)
        high = np.ceil(ends.max(axis=0)) if len(ends) else np.zeros(2)
        self._origin = low - self.ROOM
        shape = np.minimum((high - low).astype(int) + 2 * self.ROOM + 1, 4000)
        self._cells = np.zeros(tuple(shape), bool)
        self.add(pieces)

    def add(self, pieces: Array) -> None:
        """Mark the cells under straight pieces."""
        if not len(pieces):
            return
        along = pieces[:, 2:] - pieces[:, :2]
        counts = np.ceil(np.hypot(along[:, 0], along[:, 1]) / 0.45).astype(int) + 2
        which = np.repeat(np.arange(len(pieces)), counts)
        first = np.cumsum(counts) - counts
        t = (np.arange(counts.sum()) - first[which]) / (counts[which] - 1)
        at = pieces[which, :2] + t[:, None] * along[which]
        cells = np.floor(at - self._origin).astype(int)
        fits = ((cells >= 0) & (cells < self._cells.shape)).all(axis=1)
        self._cells[tuple(cells[fits].T)] = True

    def covered(self, box: Sequence[XY]) -> bool:
        """Tell whether ink lies in a cell that is wholly inside a level or plumb box."""
        xs, ys = [p[0] - self._origin[0] for p in box], [p[1] - self._origin[1] for p in box]
        if min(abs(xs[1] - xs[0]), abs(ys[1] - ys[0])) > 1e-6:
            return False
        i, j = ceil(min(xs)), ceil(min(ys))
        k, m = int(max(xs)), int(max(ys))
        if i < 0 or j < 0 or i >= k or j >= m:
            return False
        return bool(self._cells[i:k, j:m].any())


def own_overlaps(drawn: Drawn, ink: Ink) -> float:
    """Return the cost of lettering that stands on the dimension's own extension lines."""
    extension = ink.pieces[ink.kinds == EXTENSION]
    if not len(extension):
        return 0.0
    boxes = [item.box(0.4) for item in drawn.items if isinstance(item, Text)]
    edges = np.array([(*b[k], *b[(k + 1) % 4]) for b in boxes for k in range(4)]).reshape(-1, 4)
    found = _crossing(edges, extension).any() or _inside(np.array(boxes, float), extension)
    return NEVER if found else 0.0


def _crossing(a: Array, b: Array) -> NDArray[np.bool_]:
    """Tell which straight pieces properly cross, shape (len(a), len(b))."""
    found: NDArray[np.bool_] = _parted(a, b) & _parted(b, a).T
    return found


def _parted(lines: Array, pieces: Array) -> NDArray[np.bool_]:
    """Tell which pieces have their two ends on different sides of which lines, all pairs."""
    # The cross product of a line's way and the offset to (x, y) is its form times (y, x, 1).
    forms, count = np.empty((len(lines), 3)), len(pieces)
    forms[:, 0] = lines[:, 2] - lines[:, 0]
    forms[:, 1] = lines[:, 1] - lines[:, 3]
    forms[:, 2] = -forms[:, 0] * lines[:, 1] - forms[:, 1] * lines[:, 0]
    ends = np.ones((3, 2 * count))
    ends[1::-1, :count], ends[1::-1, count:] = pieces[:, :2].T, pieces[:, 2:].T
    sides = forms @ ends
    found: NDArray[np.bool_] = sides[:, :count] * sides[:, count:] < 0.0
    return found


def _inside(boxes: Array, pieces: Array) -> int:
    """Count boxes that hold an end of a piece."""
    if not len(boxes) or not len(pieces):
        return 0
    points = np.vstack([pieces[:, :2], pieces[:, 2:]])
    origin = boxes[:, None, 0]
    along, up = boxes[:, None, 1] - origin, boxes[:, None, 3] - origin
    offset = points[None] - origin
    s = (offset * along).sum(axis=2) / (along * along).sum(axis=2)
    t = (offset * up).sum(axis=2) / (up * up).sum(axis=2)
    return int(((s > 0) & (s < 1) & (t > 0) & (t < 1)).any(axis=1).sum())


def _beside(a: Array, b: Array, apart: float, slant: float = 0.05) -> int:
    """Count pairs that run side by side closer than `apart`, for more than half a mm.

    `slant` is the sine of the angle up to which two lines count as side by side.
    """
    da, db = a[:, 2:] - a[:, :2], b[:, 2:] - b[:, :2]
    la, lb = np.hypot(da[:, 0], da[:, 1]), np.hypot(db[:, 0], db[:, 1])
    ua = da / np.where(la > 0.0, la, 1.0)[:, None]
    cross = ua[:, None, 0] * db[None, :, 1] - ua[:, None, 1] * db[None, :, 0]
    parallel = np.abs(cross) < slant * lb[None, :]
    start, end = b[None, :, :2] - a[:, None, :2], b[None, :, 2:] - a[:, None, :2]
    s0, s1 = (start * ua[:, None]).sum(2), (end * ua[:, None]).sum(2)
    overlap = np.minimum(np.maximum(s0, s1), la[:, None]) - np.maximum(np.minimum(s0, s1), 0.0)
    away = np.minimum(np.abs(start[..., 0] * ua[:, None, 1] - start[..., 1] * ua[:, None, 0]),
                      np.abs(end[..., 0] * ua[:, None, 1] - end[..., 1] * ua[:, None, 0]))
    return int((parallel & (overlap > 0.5) & (away < apart)).sum())


class Runouts:
    """Where an extension line may begin: behind edges and center lines that lie in its way."""

    def __init__(self, lines: Iterable[Line]) -> None:
        self._lines = np.array([(*line.start, *line.end) for line in lines], float).reshape(-1, 4)
        self._known: dict[tuple[XY, XY], float] = {}

    def past(self, at: XY, way: XY) -> float:
        """Return how far from `at`, in direction `way`, the last line in its way reaches."""
        key = (at, way)
        if key not in self._known:
            self._known[key] = self._past(at, way)
        return self._known[key]

    def _past(self, at: XY, way: XY) -> float:
        if not len(self._lines):
            return 0.0
        offset = self._lines.reshape(-1, 2, 2) - np.array(at)
        along = offset @ np.array(way)
        off = np.abs(offset @ np.array((-way[1], way[0])))
        flat = (off < 0.15).all(axis=1)
        low, high = along[flat].min(axis=1), along[flat].max(axis=1)
        reach, growing = 0.0, True
        while growing:
            grown = float(max([reach, *high[low <= reach + 1.0]]))
            growing = grown > reach + 1e-9
            reach = grown
        return reach


def middle_of(texts: Sequence[Text]) -> XY:
    """Return the middle of the box around lettering."""
    corners = [p for text in texts for p in text.box()]
    xs, ys = [p[0] for p in corners], [p[1] for p in corners]
    return (0.5 * (min(xs) + max(xs)), 0.5 * (min(ys) + max(ys)))


def apart(a: XY, b: XY) -> float:
    """Return the distance of two points."""
    return hypot(a[0] - b[0], a[1] - b[1])
