"""Where an extension line may begin: behind the edges and center lines that lie in its way.

What runs on a center line is carried by it, and what lies on an edge would hide it. So an extension
line begins behind the last line on its own way, and is not drawn where one reaches far enough. From
a sharp corner that is lost it begins where its edges are drawn to cross.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from sketcher.drafting.layout.ink import Array
from sketcher.drafting.layout.sharp_corners import (
    IN_LINE,
    MOST_AIR,
    THERE,
    SharpCorners,
    clear_start,
    near,
)
from sketcher.geometry.curves import XY, Arc, Curve, Line


class Runouts:
    """The straight edges and center lines of one drawing.

    Parameters
    ----------
    lines : iterable of Line
    edges : float (n, 4)
        The outline in straight pieces, arcs too.
    centers : float (n, 4), optional
        The center lines likewise.
    outline : iterable of Curve
        Edges, whose lost corners are drawn.
    """

    def __init__(
        self, lines: Iterable[Line], edges: Array, centers: Array | None = None,
        outline: Iterable[Curve] = (),
    ) -> None:
        self.corners = SharpCorners(outline, edges, centers)
        self._edges = edges
        self._lines = np.array([(*line.start, *line.end) for line in lines], float).reshape(-1, 4)
        self._pieces = edges if centers is None else np.concatenate((edges, centers))
        self._known: dict[tuple[XY, XY, bool], tuple[Array, Array]] = {}
        self._starts: dict[tuple[XY, XY, float, float], float] = {}

    def begins(self, at: XY, way: XY, upto: float, gap: float, carried: bool = False) -> float:
        """Return how far from `at`, in direction `way`, an extension line begins.

        A gap behind the last line that begins before `upto`; 0.0 at a lost corner, which is drawn.

        Parameters
        ----------
        at : XY
        way : XY
            Unit direction.
        upto : float
            Distance in mm; lines that begin further on do not count.
        gap : float
            Clear space in mm.
        carried : bool
            Whether it carries on an edge that ends before `at`, whatever lies there.
        """
        begin, reach = self._lines_in(at, way, carried)
        k = int(np.searchsorted(begin, upto))
        return self._start(at, way, float(reach[k]), gap)

    def all_begin(self, at: XY, way: XY, upto: Array, gap: float) -> Array:
        """Return the same for many distances."""
        begin, reach = self._lines_in(at, way, False)
        number = np.searchsorted(begin, upto)
        found = np.empty(len(upto))
        for k in set(number.tolist()):
            found[number == k] = self._start(at, way, float(reach[k]), gap)
        return found

    def lost_corner(self, at: XY, way: XY) -> tuple[Line | Arc, ...]:
        """Return the thin lines that show a lost corner from which an extension line begins."""
        reach = self._lines_in(at, way, False)[1]
        return self.corners.strokes(at) if reach[0] == 0.0 else ()

    def reach(self, at: XY, way: XY) -> float:
        """Return how far the line on which a place lies runs on from there."""
        begin, reach = self._lines_in(at, way, False)
        return max(0.0, float(reach[np.searchsorted(begin, IN_LINE)]))

    def _lines_in(self, at: XY, way: XY, carried: bool) -> tuple[Array, Array]:
        key = (at, way, carried)
        if key not in self._known:
            self._known[key] = self._in_line(at, way, carried)
        return self._known[key]

    def _start(self, at: XY, way: XY, reach: float, gap: float) -> float:
        key = (at, way, reach, gap)
        if key not in self._starts:
            lost = reach == 0.0 and bool(self.corners.strokes(at))
            self._starts[key] = 0.0 if lost else clear_start(self._edges, at, way, reach + gap)
        return self._starts[key]

    def _in_line(self, at: XY, way: XY, carried: bool) -> tuple[Array, Array]:
        """Return where lines in the way begin, rising, and how far the first k reach."""
        offset = self._lines.reshape(-1, 2, 2) - np.array(at)
        along = offset[..., 0] * way[0] + offset[..., 1] * way[1]
        off = np.abs(offset[..., 1] * way[0] - offset[..., 0] * way[1])
        some = np.flatnonzero((off < IN_LINE).all(axis=1) & (along.max(axis=1, initial=0.0) > 0.0))
        low, high = along[some].min(axis=1, initial=np.inf), along[some].max(axis=1, initial=0.0)
        order = np.argsort(low)
        behind = self._behind(at, along, off, carried)
        return low[order], np.maximum.accumulate(np.concatenate(([behind], high[order])))

    def _behind(self, at: XY, along: Array, off: Array, carried: bool) -> float:
        """Return where the line ends that leads to a place in the air, such as a rounded corner.

        The place is where edges would meet if the corner were sharp: an extension line begins at
        the end of its edge, else it would stand in the air. 0 where something is at the place.
        """
        high = along.max(axis=1, initial=-np.inf)
        some = (off < IN_LINE).all(axis=1) & (high <= 0.0) & (high > -MOST_AIR)
        if not some.any() or (not carried and near(self._pieces, at) < THERE):
            return 0.0
        return float(high[some].max())

