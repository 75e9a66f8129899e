"""How often closed runs of curves go round a point; exact for arcs.

Curves are cut into pieces that rise or fall all the way; a ray to the right counts those that it
crosses. A piece has its lower end and not its upper one, so that a ray through a vertex counts
right.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil, cos, floor, pi

import numpy as np

from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.geometry.table import Floats, Ints


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

    def crossed(self, point: XY) -> Ints:
        """Return the pieces that a ray from `point` to the right crosses."""
        x, y = point
        k = np.flatnonzero((self._low <= y) & (y < self._high))
        return k[self._at(k, y) > x]

    def crossed_by(self, points: Floats) -> tuple[Ints, Ints]:
        """Return the pairs (point, piece) of rays from k points to the right; points (k, 2)."""
        y = points[:, 1][:, None]
        at, k = np.nonzero((self._low <= y) & (y < self._high))
        hit = self._at(k, points[at, 1]) > points[at, 0]
        return at[hit], k[hit]

    def _at(self, k: Ints, y: float | Floats) -> Floats:
        """Return x of the pieces at height y."""
        rise = y - self._y[k]
        half = np.sqrt(np.maximum(self._radius[k] ** 2 - rise**2, 0.0))
        out: Floats = self._x[k] + np.where(
            self._side[k] == 0.0, self._slope[k] * rise, self._side[k] * half
        )
        return out


def winding(curves: Sequence[Curve], point: XY) -> int:
    """Return how often closed runs of curves go round `point`, counter-clockwise positive."""
    rises = Rises(curves)
    return int(np.sum(rises.sense[rises.crossed(point)]))


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
