"""How often closed runs of curves go round a point; exact for arcs.

Curves are cut into pieces that rise or fall all the way; a ray to the right counts those that it
crosses. A piece has its lower end and not its upper one, so that a ray through a vertex counts
right.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, cos, floor, pi

import numpy as np

from sketcher.geometry.curve_table import Floats, Ints, portions
from sketcher.geometry.curves import XY, Circle, Curve, Line


class Rises:
    """Rising and falling pieces of curves, in columns.

    Attributes
    ----------
    owner : int (m,)
        Index of the curve.
    sense : float (m,)
        +1 for a piece that the curve's travel climbs, -1 for one that it descends.
    """

    def __init__(self, curves: Sequence[Curve]) -> None:
        rows: list[tuple[float, ...]] = []
        for index, curve in enumerate(curves):
            rows += _pieces(index, curve)
        self._fill(np.array(rows, dtype=float).reshape(len(rows), 9))

    @classmethod
    def of_rows(cls, rows: Floats) -> Rises:
        """Return pieces from their columns.

        Parameters
        ----------
        rows : array (m, 9)
            Owner, sense, lower and upper y, x at the lower end of a line or of the center, run per
            rise of a line, y at the lower end or of the center, radius, and the side (-1 or 1) of
            the center on which an arc's piece lies; 0 for a line.
        """
        made = cls(())
        made._fill(rows)
        return made

    def _fill(self, table: Floats) -> None:
        self.owner: Ints = table[:, 0].astype(np.intp)
        self.sense: Floats = table[:, 1]
        self._low, self._high = table[:, 2], table[:, 3]
        # Lines: x at the lower end and run per rise. Arcs: center, radius, and the side (+-1).
        self._x, self._slope, self._y, self._radius, self._side = table[:, 4:].T
        self._bands: _Bands | None = None

    def crossed(self, point: XY) -> Ints:
        """Return the pieces that a ray from `point` to the right crosses."""
        x, y = point
        k = np.flatnonzero((self._low <= y) & (y < self._high))
        return k[self._at(k, y) > x]

    def crossed_by(self, points: Floats) -> tuple[Ints, Ints]:
        """Return the pairs (point, piece) of rays from k points to the right; points (k, 2).

        Sorted by point, then by piece.
        """
        if self._bands is None:
            self._bands = _Bands(self._low, self._high)
        found = [(points[:0, 0].astype(np.intp), self.owner[:0])]
        for at, k in self._bands.beside(points[:, 1]):
            y = points[at, 1]
            level = (self._low[k] <= y) & (y < self._high[k])
            at, k = at[level], k[level]
            hit = self._at(k, points[at, 1]) > points[at, 0]
            found.append((at[hit], k[hit]))
        at, k = (np.concatenate(column) for column in zip(*found, strict=True))
        return at, k

    def _at(self, k: Ints, y: float | Floats) -> Floats:
        """Return x of the pieces at height y."""
        rise = y - self._y[k]
        half = np.sqrt(np.maximum(self._radius[k] ** 2 - rise**2, 0.0))
        # A line that hardly rises has an endless slope: at its own height it is where it begins.
        run = np.where(rise == 0.0, 0.0, self._slope[k]) * rise
        out: Floats = self._x[k] + np.where(self._side[k] == 0.0, run, self._side[k] * half)
        return out


class _Bands:
    """Level bands of equal height with the pieces that reach into each.

    A band is as high as a piece on average, so that all bands together hold each piece about twice.
    """

    def __init__(self, low: Floats, high: Floats) -> None:
        self._count = len(low)
        if not self._count:
            return
        self._base = float(low.min())
        extent = float(high.max()) - self._base
        self._height = max(float(np.mean(high - low)), extent / self._count) or 1.0
        first, last = self._band(low), self._band(high)
        times = last - first + 1
        piece = np.repeat(np.arange(self._count), times)
        start = np.repeat(np.cumsum(times) - times, times)
        band = np.repeat(first, times) + np.arange(len(piece)) - start
        order = np.argsort(band, kind="stable")  # stable: within a band in the order of the pieces
        self._piece = piece[order]
        self._stops = np.concatenate(([0], np.cumsum(np.bincount(band))))

    def _band(self, y: Floats) -> Ints:
        return np.floor((y - self._base) / self._height).astype(np.intp)

    def beside(self, y: Floats) -> Iterator[tuple[Ints, Ints]]:
        """Yield the pairs (index of a height, piece in its band), in portions."""
        if not self._count or not len(y):
            return
        within = (y >= self._base) & (y < self._base + self._height * (len(self._stops) - 1))
        band = np.where(within, self._band(np.where(within, y, self._base)), 0)
        count = np.where(within, self._stops[band + 1] - self._stops[band], 0)
        for rows in portions(count):
            times = count[rows]
            at = np.repeat(rows, times)
            offset = np.arange(len(at)) - np.repeat(np.cumsum(times) - times, times)
            yield at, self._piece[self._stops[band[at]] + offset]


def _pieces(index: int, curve: Curve) -> list[tuple[float, ...]]:
    if isinstance(curve, Line):
        (x0, y0), (x1, y1) = curve.start, curve.end
        if y0 == y1:
            return []
        sense, low, high = (1.0, y0, y1) if y1 > y0 else (-1.0, y1, y0)
        x = x0 if y1 > y0 else x1
        return [(index, sense, low, high, x, (x1 - x0) / (y1 - y0), low, 0.0, 0.0)]
    (cx, cy), r = curve.center, curve.radius
    if isinstance(curve, Circle):
        low, high = cy - r, cy + r
        return [(index, s, low, high, cx, 0.0, cy, r, s) for s in (1.0, -1.0)]
    first, last = curve.start_angle, curve.start_angle + curve.sweep
    # Tops and bottoms inside the sweep, in the order of the travel.
    lowest, highest = min(first, last), max(first, last)
    turns = range(ceil(lowest / pi - 0.5), floor(highest / pi - 0.5) + 1)
    inner = [k for k in turns if lowest < (k + 0.5) * pi < highest]
    stops = [(k + 0.5) * pi for k in inner]
    heights = [cy + r if k % 2 == 0 else cy - r for k in inner]
    if curve.sweep < 0.0:
        stops.reverse()
        heights.reverse()
    heights = [curve.start[1], *heights, curve.end[1]]
    rows: list[tuple[float, ...]] = []
    for (a, ya), (b, yb) in pairwise(zip([first, *stops, last], heights, strict=True)):
        if ya != yb:
            sense, side = 1.0 if yb > ya else -1.0, 1.0 if cos(0.5 * (a + b)) > 0.0 else -1.0
            rows.append((index, sense, min(ya, yb), max(ya, yb), cx, 0.0, cy, r, side))
    return rows
