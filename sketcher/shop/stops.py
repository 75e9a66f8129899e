"""What a way goes through: stops, each with a place where it begins and one where it ends."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import dist
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sketcher.geometry.curves import XY

Row: TypeAlias = list[int]
"""Numbers of stops in the order of a way."""

NEIGHBORS = 12
"""A stop is tried beside so many of those nearest to it; more found no shorter ways."""


class Stops:
    """What is to be visited.

    Parameters
    ----------
    begins, ends : sequence of (x, y)
        Where each stop begins and where it ends.
    levels : sequence of (group, level)
        Within a group a lower level comes before a higher one.
    start : (x, y), optional
        Where the way begins; without it at the first stop.
    """

    def __init__(
        self, begins: Sequence[XY], ends: Sequence[XY], levels: Sequence[tuple[int, int]],
        start: XY | None = None,
    ) -> None:
        self.begins = np.array(begins, float).reshape(-1, 2)
        self.ends = np.array(ends, float).reshape(-1, 2)
        self.levels = list(levels)
        self.start = start
        known = sorted(set(levels))
        self._number = np.array([known.index(level) for level in levels], np.intp)
        self._groups = [group for group, _ in known]
        self._near: dict[int, NDArray[np.intp]] = {}

    def __len__(self) -> int:
        return len(self.levels)

    def near(self, stop: int) -> NDArray[np.intp]:
        """Return the stops that begin or end nearest to where one begins and ends."""
        found = self._near.get(stop)
        if found is None:
            away = self.begins - self.ends[stop]
            back = self.ends - self.begins[stop]
            far = np.minimum((away * away).sum(axis=1), (back * back).sum(axis=1))
            most = min(NEIGHBORS + 1, len(self))
            found = np.argpartition(far, most - 1)[:most]
            found = self._near[stop] = found[found != stop]
        return found

    def way(self, row: Sequence[int]) -> float:
        """Return the length of the rapid moves in this order."""
        if not len(row):
            return 0.0
        step = self.begins[row[1:]] - self.ends[row[:-1]]
        total = float(np.hypot(step[:, 0], step[:, 1]).sum())
        return total + (dist(self.start, self.begins[row[0]]) if self.start else 0.0)

    def allowed(self, row: Sequence[int]) -> bool:
        """Tell whether every stop comes after all of the lower levels of its group."""
        last = self.bounds(np.asarray(row, np.intp))[0]
        return bool((last < np.arange(len(row))).all())

    def bounds(self, row: NDArray[np.intp]) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        """Return for each place in a row the last place that must be before, the first after.

        -1 and the length of the row where there is none.
        """
        number, size = self._number[row], len(row)
        places = np.arange(size)
        last = np.full(len(self._groups), -1, np.intp)
        first = np.full(len(self._groups), size, np.intp)
        np.maximum.at(last, number, places)
        np.minimum.at(first, number, places)
        before, after = np.full_like(last, -1), np.full_like(first, size)
        for k, (a, b) in enumerate(pairwise(self._groups)):
            if a == b:
                before[k + 1] = max(before[k], last[k])
        for k in range(len(self._groups) - 2, -1, -1):
            if self._groups[k] == self._groups[k + 1]:
                after[k] = min(after[k + 1], first[k + 1])
        return before[number], after[number]
