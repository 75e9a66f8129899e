"""Where ringed numbers stand beside what they point at, so that nothing is covered.

Each place gets one leader whose arrow ends on it, and at its other end the numbers of all that is
told there, each in a ring. Of many spots around the place the cheapest counts: clear of drawn
lines, of other rings and leaders, near by; those chosen first are tried again once all stand. The
prices were chosen by trial on crowded corners.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, dist, hypot, pi

import numpy as np

from sketcher.drafting.primitives import Item, Stroke, Text, arrowhead, line
from sketcher.geometry.bounds import Box
from sketcher.geometry.curve_table import Bools, CurveTable, Floats
from sketcher.geometry.curves import XY, Circle, Curve
from sketcher.geometry.vectors import normalized

LETTERING = 3.0
"""Height of the numbers in mm: the least of ASME Y14.2, Table 1 (from memory)."""
RIM = 0.7  # mm between a number and its ring
ARROW = (2.4, 0.9)  # length and width of the arrowhead in mm
ONE_PLACE = 0.8  # mm on paper: places nearer than this share a leader
IN_A_ROW = 4  # rings side by side before a new row begins
CELL = 0.5  # mm: raster in which drawn lines are looked up
CLEAR = 0.8  # mm between a ring and what else is drawn
ANGLES = 32
REACHES = (4.5, 6.0, 8.0, 10.5, 13.5, 17.0, 21.0, 26.0, 32.0, 39.0, 47.0, 57.0, 70.0)
TIMES = 6
"""How often all are placed at most: it ends when nothing moves."""
SAMPLES = 60  # places of a leader that are looked up
SPOTS = 120  # cheapest spots of a place that are tried beside others
COVERED, THROUGH, CROSSED = 1000.0, 300.0, 100.0
"""Prices of a ring on a ring or on a place, a leader through a ring, a leader across another."""


@dataclass(frozen=True, slots=True)
class RingTip:
    """A place on paper, and the numbers that are told there."""

    at: XY
    numbers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NumberRing:
    """Ringed numbers beside the place that they point at, in mm on paper.

    Parameters
    ----------
    tip : RingTip
    centers : tuple of (x, y)
        Of the rings, one for each number.
    radius : float
    foot : (x, y)
        Where the leader leaves the rings.
    """

    tip: RingTip
    centers: tuple[XY, ...]
    radius: float
    foot: XY

    def items(self, source: str, wide: bool = False) -> Iterator[Item]:
        """Give what is drawn; `wide` rings stand out."""
        for number, center in zip(self.tip.numbers, self.centers, strict=True):
            yield from ring_items(number, center, self.radius, f"{source}:{number}", wide)
        name = f"{source}-leader:{self.tip.numbers[0]}"
        if dist(self.foot, self.tip.at) > ARROW[0]:
            away = normalized((self.tip.at[0] - self.foot[0], self.tip.at[1] - self.foot[1]))
            base = (self.tip.at[0] - ARROW[0] * away[0], self.tip.at[1] - ARROW[0] * away[1])
            yield line(self.foot, base, "leader", name)
            yield arrowhead(self.tip.at, away, name, *ARROW)


def ring_items(
    number: str, center: XY, radius: float, source: str, wide: bool = False
) -> Iterator[Item]:
    """Give a number in a ring."""
    x, y = center
    yield Stroke(Circle(center, radius), "visible" if wide else "leader", source)
    yield Text(number, (x, y - 0.5 * LETTERING), LETTERING, source, "center", bold=True)


def ring_radius(numbers: Sequence[str]) -> float:
    """Return the radius of rings that hold each of some numbers, in mm."""
    widest = max((Text(each, (0.0, 0.0), LETTERING, "", bold=True).width for each in numbers),
                 default=0.0)
    return RIM + 0.5 * hypot(widest, LETTERING)


def gathered(places: Sequence[tuple[XY, str]]) -> tuple[RingTip, ...]:
    """Return places on paper with those as good as equal made one, in the order given."""
    tips: list[tuple[XY, list[str]]] = []
    for at, number in places:
        near = next((one for one in tips if dist(one[0], at) <= ONE_PLACE), None)
        if near is None:
            tips.append((at, [number]))
        else:
            near[1].append(number)
    return tuple(RingTip(at, tuple(numbers)) for at, numbers in tips)


def number_rings(
    tips: Sequence[RingTip], ink: Sequence[Curve], area: Box, taken: Sequence[Box] = ()
) -> tuple[NumberRing, ...]:
    """Return where the rings of all places stand, in their order.

    Parameters
    ----------
    tips : sequence of RingTip
    ink : sequence of Curve
        What is drawn, in mm on paper.
    area : Box
        What they keep within.
    taken : sequence of Box
        Where they do not stand at all.
    """
    if not tips:
        return ()
    radius = ring_radius([number for tip in tips for number in tip.numbers])
    ground = InkedGround(ink, area, taken)
    places = np.array([tip.at for tip in tips])
    spots = [_spots(tip, ground, radius, np.delete(places, k, axis=0))
             for k, tip in enumerate(tips)]
    near = (np.hypot(*(places[:, None] - places[None, :]).transpose(2, 0, 1)) < 20.0).sum(axis=1)
    order = sorted(range(len(tips)), key=lambda k: (-near[k], k))
    chosen: dict[int, int] = {}
    # boxes about what is chosen; nothing meets what is not
    low, high = np.full((len(tips), 2), np.inf), np.full((len(tips), 2), -np.inf)
    for _ in range(TIMES):
        before = dict(chosen)
        for k in order:
            near_by = ((low <= spots[k].high) & (high >= spots[k].low)).all(axis=1)
            others = [(spots[n], chosen[n]) for n in np.flatnonzero(near_by).tolist() if n != k]
            cost = spots[k].cost + (spots[k].clashes(others, radius) if others else 0.0)
            chosen[k] = int(np.argmin(cost))
            low[k], high[k] = spots[k].around(chosen[k], 2.0 * radius + CLEAR)
        if chosen == before:
            break
    return tuple(spots[k].ring(tip, chosen[k], radius) for k, tip in enumerate(tips))


class InkedGround:
    """Drawn lines in an area as distances on a raster.

    Parameters
    ----------
    ink : sequence of Curve
    area : Box
    taken : sequence of Box
        Boxes as if they were drawn full.
    """

    def __init__(self, ink: Sequence[Curve], area: Box, taken: Sequence[Box]) -> None:
        from scipy.ndimage import distance_transform_edt

        self.area = area
        self._low = np.array(area[:2])
        shape = tuple(ceil((b - a) / CELL) + 1 for a, b in zip(area[:2], area[2:], strict=True))
        drawn = np.zeros(shape, bool)
        at = np.round((_samples(ink) - self._low) / CELL).astype(int)
        at = at[((at >= 0) & (at < shape)).all(axis=1)]
        drawn[at[:, 0], at[:, 1]] = True
        for x0, y0, x1, y1 in taken:
            i, j = (max(0, int((v - w) / CELL)) for v, w in zip((x0, y0), area[:2], strict=True))
            m, n = (max(0, ceil((v - w) / CELL) + 1)
                    for v, w in zip((x1, y1), area[:2], strict=True))
            drawn[i:m, j:n] = True
        self.clearance: Floats = (CELL * distance_transform_edt(~drawn) if drawn.any()
                                  else np.full(shape, 1e3))
        self._top = np.array(shape) - 1

    def nearest_clear(
        self, at: XY, room: float, others: Sequence[tuple[XY, float]]
    ) -> XY | None:
        """Return the place nearest to another one that has so much room all about, in mm.

        Parameters
        ----------
        at : (x, y)
        room : float
        others : sequence of ((x, y), float)
            Places to keep away from, and how far.
        """
        shape = self.clearance.shape
        x = self._low[0] + CELL * np.arange(shape[0])[:, None]
        y = self._low[1] + CELL * np.arange(shape[1])[None, :]
        left, low, right, high = self.area
        good = (self.clearance >= room) & (x >= left + room) & (x <= right - room) & (
            y >= low + room) & (y <= high - room)
        for (a, b), far in others:
            good &= np.hypot(x - a, y - b) >= far
        if not good.any():
            return None
        away = np.where(good, np.hypot(x - at[0], y - at[1]), np.inf)
        k, n = np.unravel_index(int(away.argmin()), shape)
        return (float(x[k, 0]), float(y[0, n]))

    def clear(self, at: Floats) -> Floats:
        """Distance in mm from what is drawn, at places of shape (..., 2)."""
        k = np.clip(np.round((at - self._low) / CELL).astype(int), 0, self._top)
        return np.asarray(self.clearance[k[..., 0], k[..., 1]])


@dataclass(frozen=True, slots=True)
class _Spots:
    """Spots for the rings of one place, cheapest first.

    `centers` has the shape (spots, rings, 2), `feet` (spots, 2), `cost` (spots,); all centers and
    the place lie between `low` and `high`.
    """

    tip: Floats
    centers: Floats
    feet: Floats
    cost: Floats
    low: Floats
    high: Floats

    def ring(self, tip: RingTip, k: int, radius: float) -> NumberRing:
        """Return the rings on one of the spots."""
        return NumberRing(tip, tuple((float(x), float(y)) for x, y in self.centers[k]), radius,
                          (float(self.feet[k, 0]), float(self.feet[k, 1])))

    def around(self, k: int, more: float) -> tuple[Floats, Floats]:
        """Return the corners of a box about one of the spots and the place, so much larger."""
        places = np.vstack([self.centers[k], self.tip])
        return places.min(axis=0) - more, places.max(axis=0) + more

    def clashes(self, others: Sequence[tuple[_Spots, int]], r: float) -> Floats:
        """Price of rings and leaders upon others that stand, for each spot."""
        rings = np.concatenate([spots.centers[k] for spots, k in others])
        feet = np.array([spots.feet[k] for spots, k in others])
        tips = np.array([spots.tip for spots, _ in others])
        apart = _apart(self.centers[:, :, None], rings).min(axis=1)
        cost = COVERED * (apart < 2.0 * r + CLEAR).sum(axis=1)
        own = _from_segments(rings[None, :], self.feet[:, None], self.tip)
        cost = cost + THROUGH * (own < r + CLEAR).sum(axis=1)
        theirs = _from_segments(self.centers[:, :, None], feet, tips)
        cost += THROUGH * (theirs < r + CLEAR).sum(axis=(1, 2))
        cost += CROSSED * _cross(self.feet[:, None], self.tip, feet, tips).sum(axis=1)
        return np.asarray(cost)


def _spots(tip: RingTip, ground: InkedGround, r: float, others: Floats) -> _Spots:
    """Return the cheapest spots about a place, `others` being the other places."""
    at = np.array(tip.at)
    grid = _offsets(len(tip.numbers), r)
    half = np.abs(grid).max(axis=0) + r
    turn = np.arange(ANGLES) * (2.0 * pi / ANGLES)
    way = np.column_stack([np.cos(turn), np.sin(turn)])
    support = np.full(ANGLES, r) if len(grid) == 1 else (
        half / np.maximum(np.abs(way), 1e-9)).min(axis=1)
    middle = at + ((np.array(REACHES)[:, None] + support)[..., None] * way).reshape(-1, 2)
    centers = middle[:, None, :] + grid
    first = np.argmin(_apart(centers, at), axis=1)
    back = at - centers[np.arange(len(centers)), first]
    length = np.hypot(*back.T)
    feet = at - back * (1.0 - r / np.maximum(length, 1e-9))[:, None]
    cost = length - r + _in_the_way(ground, centers, feet, at, r)
    if len(others):
        near = _apart(centers[:, :, None], others).min(axis=1)
        cost += COVERED * (near < r + 2.0 * CLEAR).sum(axis=1)
        cost += 20.0 * (_from_segments(others, feet[:, None], at) < CLEAR).sum(axis=1)
    best = np.argsort(cost, kind="stable")[:SPOTS]
    around = np.vstack([centers[best].reshape(-1, 2), at])
    return _Spots(at, centers[best], feet[best], cost[best], around.min(axis=0),
                  around.max(axis=0))


def _in_the_way(
    ground: InkedGround, centers: Floats, feet: Floats, tip: Floats, r: float
) -> Floats:
    """Price of drawn lines under rings and leaders, and of leaving the area."""
    cost = 25.0 * np.maximum(0.0, r + CLEAR - ground.clear(centers)).sum(axis=1)
    low, high = np.array(ground.area[:2]) + r, np.array(ground.area[2:]) - r
    out = (np.maximum(low - centers, 0.0) + np.maximum(centers - high, 0.0)).sum(axis=(1, 2))
    cost += np.where(out > 0.0, 10.0 * COVERED + out, 0.0)
    # what the arrow points at is drawn there: the first millimetre is free
    t = np.linspace(0.0, 1.0, SAMPLES)
    places = tip + t[None, :, None] * (feet - tip)[:, None, :]
    run = np.hypot(*(feet - tip).T)
    inked = (ground.clear(places) < 0.6 * CELL) & (t[None, :] * run[:, None] > 1.0)
    crossed = (np.diff(inked.astype(int), axis=1) == 1).sum(axis=1) + inked[:, 0]
    return np.asarray(cost + 5.0 * crossed + 3.0 * run * inked.mean(axis=1))


def _offsets(count: int, r: float) -> Floats:
    """Places of so many rings about their common middle, shape (count, 2)."""
    step = 2.0 * r + 0.4
    rows = [min(IN_A_ROW, count - k) for k in range(0, count, IN_A_ROW)]
    return np.array([((k - 0.5 * (min(IN_A_ROW, count) - 1)) * step,
                      (0.5 * (len(rows) - 1) - row) * step)
                     for row, many in enumerate(rows) for k in range(many)])


def _samples(ink: Sequence[Curve]) -> Floats:
    """Places along curves, nearer to each other than a cell, shape (n, 2)."""
    table = CurveTable(ink)
    count = np.maximum(np.ceil(table.length / (0.7 * CELL)).astype(int), 1) + 1
    which = np.repeat(np.arange(len(table)), count)
    first = np.repeat(np.cumsum(count) - count, count)
    return table.points(which, (np.arange(len(which)) - first) / (count[which] - 1))


def _apart(a: Floats, b: Floats) -> Floats:
    """Distance of places from each other, shapes (..., 2)."""
    gap = a - b
    return np.asarray(np.hypot(gap[..., 0], gap[..., 1]))


def _from_segments(at: Floats, starts: Floats, ends: Floats) -> Floats:
    """Distance of places from segments, all of shapes (..., 2)."""
    along = ends - starts
    square = np.maximum((along * along).sum(axis=-1), 1e-12)
    t = np.clip(((at - starts) * along).sum(axis=-1) / square, 0.0, 1.0)
    return _apart(at, starts + t[..., None] * along)


def _cross(a: Floats, b: Floats, c: Floats, d: Floats) -> Bools:
    """Tell whether segments ab and cd cross, all of shapes (..., 2)."""
    def side(p: Floats, q: Floats, at: Floats) -> Floats:
        along, to = q - p, at - p
        return np.asarray(along[..., 0] * to[..., 1] - along[..., 1] * to[..., 0])

    return np.asarray((side(c, d, a) * side(c, d, b) < 0.0) & (side(a, b, c) * side(a, b, d) < 0.0))
