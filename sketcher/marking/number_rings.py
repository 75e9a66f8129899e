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
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sketcher.drafting.primitives import Item, Stroke, Text, arrowhead, line
from sketcher.geometry.bounds import Box
from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.geometry.vectors import normalized

Floats: TypeAlias = NDArray[np.float64]

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
SAMPLES = 100  # places of a leader that are looked up
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

    @property
    def boxes(self) -> tuple[Box, ...]:
        """Box of each ring."""
        r = self.radius
        return tuple((x - r, y - r, x + r, y + r) for x, y in self.centers)


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
    ground = _Ground(ink, area, taken, radius)
    found: dict[int, NumberRing] = {}
    near = {k: sum(dist(tip.at, other.at) < 20.0 for other in tips) for k, tip in enumerate(tips)}
    order = sorted(range(len(tips)), key=lambda k: (-near[k], k))
    for _ in range(TIMES):
        before = dict(found)
        for k in order:
            others = [ring for n, ring in found.items() if n != k]
            found[k] = ground.best(tips[k], others, [t for n, t in enumerate(tips) if n != k])
        if found == before:
            break
    return tuple(found[k] for k in range(len(tips)))


class _Ground:
    """Drawn lines as distances on a raster, and what a spot for rings costs."""

    def __init__(
        self, ink: Sequence[Curve], area: Box, taken: Sequence[Box], radius: float
    ) -> None:
        from scipy.ndimage import distance_transform_edt

        self.area, self.radius = area, radius
        self.low = np.array(area[:2])
        shape = tuple(ceil((b - a) / CELL) + 1 for a, b in zip(area[:2], area[2:], strict=True))
        drawn = np.zeros(shape, bool)
        at = np.round((_samples(ink) - self.low) / CELL).astype(int)
        at = at[((at >= 0) & (at < shape)).all(axis=1)]
        drawn[at[:, 0], at[:, 1]] = True
        for x0, y0, x1, y1 in taken:
            i, j = (max(0, int((v - w) / CELL)) for v, w in zip((x0, y0), area[:2], strict=True))
            m, n = (max(0, ceil((v - w) / CELL) + 1)
                    for v, w in zip((x1, y1), area[:2], strict=True))
            drawn[i:m, j:n] = True
        far = np.full(shape, 1e3) if not drawn.any() else CELL * distance_transform_edt(~drawn)
        self.clearance: Floats = far
        self.top = np.array(shape) - 1

    def _clear(self, at: Floats) -> Floats:
        """Distance from drawn lines at places of shape (..., 2)."""
        k = np.clip(np.round((at - self.low) / CELL).astype(int), 0, self.top)
        return np.asarray(self.clearance[k[..., 0], k[..., 1]])

    def best(
        self, tip: RingTip, others: Sequence[NumberRing], tips: Sequence[RingTip]
    ) -> NumberRing:
        """Return the cheapest rings for a place while others stand."""
        r = self.radius
        grid = _offsets(len(tip.numbers), r)
        half = np.abs(grid).max(axis=0) + r
        turn = np.arange(ANGLES) * (2.0 * pi / ANGLES)
        way = np.column_stack([np.cos(turn), np.sin(turn)])
        support = np.minimum(
            half[0] / np.maximum(np.abs(way[:, 0]), 1e-9),
            half[1] / np.maximum(np.abs(way[:, 1]), 1e-9)) if len(grid) > 1 else np.full(ANGLES, r)
        middle = np.array(tip.at) + (
            (np.array(REACHES)[:, None] + support[None, :])[..., None] * way[None, :, :]
        ).reshape(-1, 2)
        centers = middle[:, None, :] + grid[None, :, :]
        gap = centers - np.array(tip.at)
        first = np.argmin(np.hypot(gap[..., 0], gap[..., 1]), axis=1)
        near = centers[np.arange(len(centers)), first]
        back = np.array(tip.at) - near
        length = np.hypot(back[:, 0], back[:, 1])
        feet = near + r * back / np.maximum(length, 1e-9)[:, None]
        cost = (length - r) + self._in_the_way(centers, feet, np.array(tip.at))
        cost += _clashes(centers, feet, np.array(tip.at), r, others, tips)
        k = int(np.argmin(cost))
        return NumberRing(tip, tuple((float(x), float(y)) for x, y in centers[k]), r,
                          (float(feet[k, 0]), float(feet[k, 1])))

    def _in_the_way(self, centers: Floats, feet: Floats, tip: Floats) -> Floats:
        """Price of drawn lines under rings and leaders, and of leaving the area."""
        r = self.radius
        short = np.maximum(0.0, r + CLEAR - self._clear(centers)).sum(axis=1)
        cost = 25.0 * short
        low, high = np.array(self.area[:2]) + r, np.array(self.area[2:]) - r
        out = np.maximum(low - centers, 0.0).sum(axis=(1, 2)) + np.maximum(
            centers - high, 0.0).sum(axis=(1, 2))
        cost += np.where(out > 0.0, 10.0 * COVERED + out, 0.0)
        # what the arrow points at is drawn there: the first millimetre is free
        t = np.linspace(0.0, 1.0, SAMPLES)
        places = tip + t[None, :, None] * (feet - tip)[:, None, :]
        run = np.hypot(*(feet - tip).T)
        inked = (self._clear(places) < 0.6 * CELL) & (t[None, :] * run[:, None] > 1.0)
        crossed = (np.diff(inked.astype(int), axis=1) == 1).sum(axis=1) + inked[:, 0]
        return np.asarray(cost + 5.0 * crossed + 3.0 * run * inked.mean(axis=1))


def _clashes(
    centers: Floats, feet: Floats, tip: Floats, r: float, others: Sequence[NumberRing],
    tips: Sequence[RingTip],
) -> Floats:
    """Price of rings and leaders upon others, for each of many spots."""
    cost = np.zeros(len(centers))
    for other in others:
        for ring in other.centers:
            apart = np.hypot(*np.moveaxis(centers - np.array(ring), 2, 0)).min(axis=1)
            cost += COVERED * (apart < 2.0 * r + CLEAR)
            cost += THROUGH * (_from_segments(np.array(ring), feet, tip) < r + CLEAR)
        foot, end = np.array(other.foot), np.array(other.tip.at)
        for k in range(centers.shape[1]):
            cost += THROUGH * (_from_segment(centers[:, k], foot, end) < r + CLEAR)
        cost += CROSSED * _cross(feet, tip, foot, end)
    for each in tips:
        place = np.array(each.at)
        apart = np.hypot(*np.moveaxis(centers - place, 2, 0)).min(axis=1)
        cost += COVERED * (apart < r + 2.0 * CLEAR)
        cost += 20.0 * (_from_segments(place, feet, tip) < CLEAR)
    return cost


def _offsets(count: int, r: float) -> Floats:
    """Places of so many rings about their common middle, shape (count, 2)."""
    step = 2.0 * r + 0.4
    rows = [min(IN_A_ROW, count - k) for k in range(0, count, IN_A_ROW)]
    return np.array([((k - 0.5 * (min(IN_A_ROW, count) - 1)) * step,
                      (0.5 * (len(rows) - 1) - row) * step)
                     for row, many in enumerate(rows) for k in range(many)])


def _samples(ink: Sequence[Curve]) -> Floats:
    """Places along curves, nearer to each other than a cell, shape (n, 2)."""
    found = [np.zeros((0, 2))]
    for curve in ink:
        t = np.linspace(0.0, 1.0, max(2, ceil(curve.length / (0.7 * CELL)) + 1))
        if isinstance(curve, Line):
            a, b = np.array(curve.start), np.array(curve.end)
            found.append(a + t[:, None] * (b - a))
            continue
        first, sweep = (0.0, 2.0 * pi) if isinstance(curve, Circle) else (
            curve.start_angle, curve.sweep)
        angle = first + t * sweep
        found.append(np.array(curve.center) + curve.radius * np.column_stack(
            [np.cos(angle), np.sin(angle)]))
    return np.concatenate(found)


def _from_segment(at: Floats, a: Floats, b: Floats) -> Floats:
    """Distance of places, shape (n, 2), from one segment."""
    along = b - a
    t = np.clip(((at - a) @ along) / max(float(along @ along), 1e-12), 0.0, 1.0)
    return np.asarray(np.hypot(*(at - a - t[:, None] * along).T))


def _from_segments(at: Floats, starts: Floats, end: Floats) -> Floats:
    """Distance of one place from segments that share an end."""
    along = end - starts
    square = np.maximum((along * along).sum(axis=1), 1e-12)
    t = np.clip(((at - starts) * along).sum(axis=1) / square, 0.0, 1.0)
    return np.asarray(np.hypot(*(at - starts - t[:, None] * along).T))


def _cross(starts: Floats, end: Floats, a: Floats, b: Floats) -> NDArray[np.bool_]:
    """Tell which segments that share an end cross one segment."""
    def side(p: Floats, q: Floats, at: Floats) -> Floats:
        d, e = q - p, at - p
        return d[..., 0] * e[..., 1] - d[..., 1] * e[..., 0]

    parted = side(a, b, starts) * side(a, b, end) < 0.0
    return parted & (side(starts, end, a) * side(starts, end, b) < 0.0)

