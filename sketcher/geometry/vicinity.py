"""Which of many curves come near a place."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi

import numpy as np

from sketcher.geometry.curve_table import CurveTable, Floats, Ints
from sketcher.interrupt import check

CHORDS = 4
"""Chords a curve is laid out in, on average; short ones have boxes that hold little else."""
BEND = pi / 6.0
"""An arc turns at most this much from chord to chord."""
PORTION = 256
"""Places asked about in one go."""


class Vicinity:
    """A spatial index of curves (the packed R-tree of shapely, over their chords).

    Parameters
    ----------
    table : CurveTable
        The curves.
    """

    def __init__(self, table: CurveTable) -> None:
        from shapely import STRtree, linestrings

        self._table = table
        step = max(float(table.length.sum()) / (CHORDS * max(len(table), 1)), 1e-300)
        turn = np.abs(table.sweep)
        count = np.ceil(np.maximum(table.length / step, turn / BEND)).astype(int).clip(1)
        self._owner: Ints = np.repeat(np.arange(len(table)), count)
        place = np.arange(len(self._owner)) - np.repeat(np.cumsum(count) - count, count)
        along = [table.points(self._owner, (place + k) / count[self._owner]) for k in (0, 1)]
        self._tree = STRtree(linestrings(np.stack(along, axis=1)))
        # How far an arc stands out over its chords.
        self._bulge = float((table.radius * (1.0 - np.cos(0.5 * turn / count))).max(initial=0.0))

    def within(self, points: Floats, reach: float) -> Iterator[tuple[Ints, Ints, Floats]]:
        """Yield the curves within reach of places, for some of the places at a time.

        Parameters
        ----------
        points : array, shape (k, 2)
        reach : float
            Greatest distance.

        Yields
        ------
        which, curve : int (m,)
            Numbers of a place and of a curve; each pair once, by place and then by curve.
        distance : float (m,)
            Of the two.
        """
        from shapely import points as as_points

        for first in range(0, len(points), PORTION):
            check()
            some = points[first : first + PORTION]
            which, chord = self._tree.query(
                as_points(some), predicate="dwithin", distance=reach + self._bulge)
            pairs = np.unique(which * len(self._table) + self._owner[chord])
            which, curve = np.divmod(pairs, len(self._table))
            distance = self._table.distances(curve, some[which])
            near = distance <= reach
            yield which[near] + first, curve[near], distance[near]

    def nearest(self, points: Floats) -> tuple[Ints, Floats]:
        """Return the curve nearest to each place, and how far it is.

        Parameters
        ----------
        points : array, shape (k, 2)

        Returns
        -------
        curve : int (k,)
        distance : float (k,)

        Raises
        ------
        ValueError
            When there is no curve.
        """
        from shapely import points as as_points

        if not len(self._table):
            raise ValueError("nothing is nearest where there is no curve")
        found, least = np.zeros(len(points), np.intp), np.zeros(len(points))
        for first in range(0, len(points), PORTION):
            check()
            some = points[first : first + PORTION]
            dots = as_points(some)
            _, chord = self._tree.query_nearest(dots, all_matches=False)
            sure = self._owner[chord]
            # A curve's chord may stand nearer than another's that is the nearer curve.
            reach = self._table.distances(sure, some) + self._bulge
            which, chord = self._tree.query(dots, predicate="dwithin", distance=reach)
            curve = np.concatenate((self._owner[chord], sure))
            which = np.concatenate((which, np.arange(len(some))))
            distance = self._table.distances(curve, some[which])
            order = np.lexsort((curve, distance, which))
            _, best = np.unique(which[order], return_index=True)
            found[first : first + PORTION] = curve[order][best]
            least[first : first + PORTION] = distance[order][best]
        return found, least
