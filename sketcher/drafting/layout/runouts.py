"""Where an extension line may begin: behind the edges and center lines that lie in its way.

What runs on a center line is carried by it, and what lies on an edge would hide it. So an extension
line begins behind the last line on its own way, and is not drawn where one reaches far enough. From
a sharp corner that is lost it begins where its edges are drawn to cross.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from sketcher.drafting.layout.ink import Array
from sketcher.drafting.layout.sharp_corners import IN_LINE, MOST_AIR, THERE, SharpCorners, near
from sketcher.geometry.curves import XY, Curve, Line


class Runouts:
    """The straight edges and center lines of one drawing.

    Parameters
    ----------
    lines : iterable of Line
    pieces : float (n, 4)
        All that an extension line may begin at, arcs in straight pieces.
    outline : iterable of Curve
        Edges, whose lost corners are drawn.
    """

    def __init__(
        self, lines: Iterable[Line], pieces: Array, outline: Iterable[Curve] = ()
    ) -> None:
        self.corners = SharpCorners(outline, pieces)
        self._lines = np.array([(*line.start, *line.end) for line in lines], float).reshape(-1, 4)
        self._pieces = pieces
        self._known: dict[tuple[XY, XY], tuple[Array, Array]] = {}

    def begins(self, at: XY, way: XY, upto: float, gap: float) -> float:
        """Return how far from `at`, in direction `way`, an extension line begins.

        A gap behind the last line that begins before `upto`, or at the lost corner itself.

        Parameters
        ----------
        at : XY
        way : XY
            Unit direction.
        upto : float
            Distance in mm; lines that begin further on do not count.
        gap : float
            Clear space in mm.
        """
        return float(self.all_begin(at, way, np.array([upto]), gap)[0])

    def all_begin(self, at: XY, way: XY, upto: Array, gap: float) -> Array:
        """Return the same for many distances."""
        key = (at, way)
        if key not in self._known:
            self._known[key] = self._in_line(at, way)
        begin, reach = self._known[key]
        found: Array = reach[np.searchsorted(begin, upto)]
        lost = bool(self.corners.strokes(at))
        return np.where((found <= 0.0) & lost, 0.0, found + gap)

    def _in_line(self, at: XY, way: XY) -> tuple[Array, Array]:
        """Return where lines in the way begin, rising, and how far the first k reach."""
        offset = self._lines.reshape(-1, 2, 2) - np.array(at)
        along = offset[..., 0] * way[0] + offset[..., 1] * way[1]
        off = np.abs(offset[..., 1] * way[0] - offset[..., 0] * way[1])
        some = np.flatnonzero((off < IN_LINE).all(axis=1) & (along.max(axis=1, initial=0.0) > 0.0))
        low, high = along[some].min(axis=1, initial=np.inf), along[some].max(axis=1, initial=0.0)
        order = np.argsort(low)
        reach = np.maximum.accumulate(np.concatenate(([self._behind(at, along, off)], high[order])))
        return low[order], reach

    def _behind(self, at: XY, along: Array, off: Array) -> float:
        """Return where the line ends that leads to a place in the air, such as a rounded corner.

        The place is where edges would meet if the corner were sharp: an extension line begins at
        the end of its edge, else it would stand in the air. 0 where something is at the place.
        """
        high = along.max(axis=1, initial=-np.inf)
        some = (off < IN_LINE).all(axis=1) & (high <= 0.0) & (high > -MOST_AIR)
        if not some.any() or near(self._pieces, at) < THERE:
            return 0.0
        return float(high[some].max())

