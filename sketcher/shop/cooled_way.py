"""A way on which stops that heat each other do not follow each other, where that costs little."""

from __future__ import annotations

from itertools import pairwise
from math import dist

import numpy as np

from sketcher.interrupt import check
from sketcher.shop.stops import Row, Stops

FARTHEST = 12
"""Stops go no further along the row to cool than this: beyond, they cost more than is to spend."""


def cooled(stops: Stops, row: Row, pairs: frozenset[tuple[int, int]], most: float) -> Row:
    """Return a row with fewer of the pairs one right after the other, no longer than `most`.

    Parameters
    ----------
    stops : Stops
    row : list of int
        Allowed.
    pairs : set of (int, int)
        Stops that heat each other, both ways round.
    most : float
        Length of the rapid moves that is not to be passed.
    """
    changed = bool(pairs)
    while changed:
        changed = False
        cooling = _Cooling(stops, row, pairs)
        offers = [(offer[0], a, b) for a, b in pairwise(row)
                  if (a, b) in pairs and (offer := cooling.offer(a, b))]
        for _, a, b in sorted(offers):
            check()
            cooling = _Cooling(stops, row, pairs)
            offer = cooling.offer(a, b)
            if offer is None or stops.way(row) + offer[0] > most:
                continue
            _, i, at = offer
            rest = [*row[:i], *row[i + 1:]]
            row = [*rest[:at], row[i], *rest[at:]]
            changed = True
    return row


class _Cooling:
    """Moves of one stop of a hot pair, each with what it costs; found without walking the row."""

    def __init__(self, stops: Stops, row: Row, pairs: frozenset[tuple[int, int]]) -> None:
        self.stops, self.row, self.pairs = stops, row, pairs
        last, first = stops.bounds(np.asarray(row, np.intp))
        self.last, self.first = last.tolist(), first.tolist()
        self.place = {stop: k for k, stop in enumerate(row)}

    def _step(self, a: int | None, b: int | None) -> float:
        if b is None:
            return 0.0
        if a is None:
            return dist(self.stops.start, self.stops.begins[b]) if self.stops.start else 0.0
        return dist(self.stops.ends[a], self.stops.begins[b])

    def _hot(self, a: int | None, b: int | None) -> bool:
        return (a, b) in self.pairs

    def offer(self, a: int, b: int) -> tuple[float, int, int] | None:
        """Return the cheapest move that cools a pair: its cost, the place and the new place."""
        k = self.place[a]
        if k + 1 >= len(self.row) or self.row[k + 1] != b:
            return None
        found = [(cost, i, at) for i in (k, k + 1)
                 for at in range(max(self.last[i] + 1, i - FARTHEST, 0),
                                 min(self.first[i], i + FARTHEST + 1, len(self.row)))
                 if at != i and (cost := self._cost(i, at)) is not None]
        return min(found) if found else None

    def _cost(self, i: int, at: int) -> float | None:
        """Return what it costs that the stop at place `i` goes to place `at`; None if no cooler."""
        def stop(k: int) -> int | None:
            return self.row[k] if 0 <= k < len(self.row) else None

        one, two = (stop(at), stop(at + 1)) if at > i else (stop(at - 1), stop(at))
        left, moved, right = stop(i - 1), stop(i), stop(i + 1)
        cooler = (self._hot(left, right) + self._hot(one, moved) + self._hot(moved, two)
                  - self._hot(left, moved) - self._hot(moved, right) - self._hot(one, two))
        if cooler >= 0:
            return None
        return (self._step(left, right) + self._step(one, moved) + self._step(moved, two)
                - self._step(left, moved) - self._step(moved, right) - self._step(one, two))
