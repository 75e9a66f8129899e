"""Where the marked points of a part stand: centers and what is loose, as arrays."""

from __future__ import annotations

from collections.abc import Collection
from operator import is_not
from typing import TYPE_CHECKING

import numpy as np

from sketcher.geometry.curves import XY
from sketcher.part.curve_questions import center_of
from sketcher.part.value import CircleCurve, Part
from sketcher.solve.solve_report import LoosePoint, SolveReport

if TYPE_CHECKING:
    from numpy.typing import NDArray


class MarkedPoints:
    """Places of points, kept while a part moves.

    Attributes
    ----------
    centers : array of int
        Rows of the points that are a curve's center, each once.
    loose : tuple of LoosePoint
        What can move and has a place.
    """

    def __init__(self) -> None:
        self._part: Part | None = None
        self._told: tuple[LoosePoint, ...] | None = None
        self._at = np.zeros((0, 2))
        self.centers = np.zeros(0, int)
        self.loose: tuple[LoosePoint, ...] = ()
        self._loose_rows = np.zeros(0, int)
        self._beside = np.zeros(0)
        self._loose_by_name: dict[str, int] = {}

    def refresh(self, part: Part, report: SolveReport) -> None:
        """Take over a part and what is loose in it."""
        was, self._part = self._part, part
        same = was is not None and list(was.points) == list(part.points)
        if was is not None and same:
            if was.points is not part.points:
                moved = np.fromiter(map(is_not, was.points.values(), part.points.values()), bool,
                                    len(part.points))
                places = list(part.points.values())
                for row in np.flatnonzero(moved).tolist():
                    self._at[row] = places[row]
        else:
            self._at = np.array(list(part.points.values()), float).reshape(-1, 2)
        fresh = was is None or not same or was.curves is not part.curves
        if fresh:
            rows = {name: row for row, name in enumerate(part.points)}
            centers = dict.fromkeys(map(center_of, part.curves.values()))
            self.centers = np.array([rows[n] for n in centers if n is not None], int)
        if fresh or report.loose is not self._told:
            self._told = report.loose
            self._note_loose(part, report.loose)

    def _note_loose(self, part: Part, loose: tuple[LoosePoint, ...]) -> None:
        rows = {name: row for row, name in enumerate(part.points)}
        found: list[tuple[LoosePoint, int, float]] = []
        for each in loose:
            curve = part.curves.get(each.point)
            if each.point in rows:
                found.append((each, rows[each.point], 0.0))
            elif isinstance(curve, CircleCurve):  # a free radius is marked on the rim
                found.append((each, rows[curve.center], curve.radius))
        self.loose = tuple(each for each, _, _ in found)
        self._loose_by_name = {each.point: k for k, each in enumerate(self.loose)}
        self._loose_rows = np.array([row for _, row, _ in found], int)
        self._beside = np.array([beside for _, _, beside in found], float)

    @property
    def at_centers(self) -> NDArray[np.float64]:
        """Places of the centers, shape (n, 2)."""
        return self._at[self.centers]

    @property
    def at_loose(self) -> NDArray[np.float64]:
        """Places of what is loose, in its order, shape (n, 2)."""
        places = self._at[self._loose_rows]
        places[:, 0] += self._beside
        return places

    def loose_at(self, names: Collection[str] | None) -> list[tuple[LoosePoint, XY]]:
        """Return what is loose, all of it or what is named, with its places."""
        if names is None:
            rows = list(range(len(self.loose)))
        else:
            rows = sorted(self._loose_by_name[n] for n in names if n in self._loose_by_name)
        places = self.at_loose
        return [(self.loose[k], (float(places[k, 0]), float(places[k, 1]))) for k in rows]
