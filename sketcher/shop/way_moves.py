"""A way made shorter by moves: runs of stops gone the other way round, or at another time.

2-opt and Or-opt (Croes 1958 and Or 1976, from memory); each stop keeps its own direction.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import dist

import numpy as np
from numpy.typing import NDArray

from sketcher.interrupt import check
from sketcher.shop.stops import Row, Stops

LONGEST_RUN = 3
"""Runs of up to so many stops are moved as one (Or 1976, from memory)."""

LEAST = 1e-9
"""A way shorter by less than this part of it is the same."""


def improved(stops: Stops, row: Sequence[int], torn: Sequence[int] | None = None) -> Row:
    """Return a row that no reversal and no moved run makes shorter.

    With `torn` only from these stops on, and from what changes on the way.
    """
    moves = _Moves(stops, row)
    least = LEAST * (stops.way(row) + 1e-30)
    waiting = dict.fromkeys(row if torn is None else torn)
    while waiting:
        check()
        stop = next(iter(waiting))
        del waiting[stop]
        i = int(moves.place[stop])
        saved, better = max(moves.reversal(i), moves.carried(i), key=lambda found: found[0])
        if better is None or saved <= least:
            continue
        changed = np.flatnonzero(better != moves.row)
        moves.put(better)
        ends = (changed[0] - 1, changed[0], changed[-1], changed[-1] + 1, i, i + 1)
        waiting.update(dict.fromkeys(int(moves.row[k]) for k in ends if 0 <= k < len(moves.row)))
    return [int(k) for k in moves.row]


class _Moves:
    """The moves that shorten a row, looked for around one stop at a time."""

    def __init__(self, stops: Stops, row: Sequence[int]) -> None:
        self.stops = stops
        self.put(np.asarray(row, np.intp))

    def put(self, row: NDArray[np.intp]) -> None:
        """Take a row, and reckon what all moves need of it."""
        stops = self.stops
        self.row = row
        self.place = np.empty_like(row)
        self.place[row] = np.arange(len(row))
        self.last, self.first = stops.bounds(row)
        self.begin, self.end = stops.begins[row], stops.ends[row]
        on, back = self.begin[1:] - self.end[:-1], self.begin[:-1] - self.end[1:]
        self.step = np.hypot(on[:, 0], on[:, 1])
        self.onward = np.concatenate(([0.0], np.cumsum(self.step)))
        self.backward = np.concatenate(([0.0], np.cumsum(np.hypot(back[:, 0], back[:, 1]))))

    def _enter(self, i: int, k: NDArray[np.intp]) -> NDArray[np.float64]:
        """Lengths from what stands before place `i` to the begins of places `k`."""
        if i == 0 and self.stops.start is None:
            return np.zeros(len(k))
        away = self.begin[k] - (self.end[i - 1] if i else np.array(self.stops.start))
        return np.asarray(np.hypot(away[:, 0], away[:, 1]))

    def _enter_one(self, i: int, k: int) -> float:
        return float(self._enter(i, np.array([k]))[0])

    def _beside(self, i: int) -> NDArray[np.intp]:
        """Places of the stops nearest to the one at place `i`."""
        return self.place[self.stops.near(int(self.row[i]))]

    def reversal(self, i: int) -> tuple[float, NDArray[np.intp] | None]:
        """Return how much the best reversal of a run that begins at place `i` saves, and its row.

        Each stop of the run keeps its own direction.
        """
        size = len(self.row)
        j = np.concatenate((self._beside(i) - 1, self._beside(i - 1), [size - 1]))
        j = j[(j > i) & (j < size)]
        if not len(j):
            return 0.0, None
        bad = self.last[i:int(j.max()) + 1] >= i
        stop = int(bad.argmax()) if bad.any() else size
        j = j[j < i + stop]
        if not len(j):
            return 0.0, None
        leave = np.zeros(len(j))
        after = j < size - 1
        away = self.begin[j[after] + 1] - self.end[i]
        leave[after] = np.hypot(away[:, 0], away[:, 1]) - self.step[j[after]]
        change = (self._enter(i, j) - self._enter_one(i, i) + leave
                  + self.backward[j] - self.backward[i] - self.onward[j] + self.onward[i])
        best = int(change.argmin())
        if change[best] >= 0.0:
            return 0.0, None
        row, end = self.row.copy(), int(j[best])
        row[i:end + 1] = row[i:end + 1][::-1]
        return -float(change[best]), row

    def carried(self, i: int) -> tuple[float, NDArray[np.intp] | None]:
        """Return the best that moving a run from place `i` elsewhere saves, and its row."""
        best: tuple[float, int, int] = (0.0, 0, 0)
        size = len(self.row)
        for j in range(i, min(i + LONGEST_RUN, size)):
            low, high = int(self.last[i:j + 1].max()) + 1, int(self.first[i:j + 1].min())
            beside = np.concatenate((self._beside(i), self._beside(j)))
            gaps = np.concatenate((beside, beside + 1, [0, size]))
            gaps = gaps[(gaps >= low) & (gaps <= high) & ((gaps < i) | (gaps > j + 1))]
            if not len(gaps):
                continue
            out = self._enter_one(i, i) + (self.step[j] if j + 1 < size else 0.0)
            if j + 1 < size:
                out -= self._enter_one(i, j + 1)
            came = gaps > 0
            into = np.zeros(len(gaps))
            away = self.begin[i] - self.end[gaps[came] - 1]
            into[came] += np.hypot(away[:, 0], away[:, 1])
            goes = gaps < size
            away = self.begin[gaps[goes]] - self.end[j]
            into[goes] += np.hypot(away[:, 0], away[:, 1])
            both = came & goes
            into[both] -= self.step[gaps[both] - 1]
            if self.stops.start is not None and not came.all():
                into[~came] += (dist(self.stops.start, self.begin[i])
                                - dist(self.stops.start, self.begin[0]))
            k = int(into.argmin())
            if out - into[k] > best[0]:
                best = (out - float(into[k]), j, int(gaps[k]))
        saved, j, gap = best
        if saved <= 0.0:
            return 0.0, None
        run, row = self.row[i:j + 1], self.row
        rest = np.concatenate((row[:i], row[j + 1:]))
        at = gap if gap < i else gap - len(run)
        return saved, np.concatenate((rest[:at], run, rest[at:]))
