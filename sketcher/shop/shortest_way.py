"""A short way through stops, each with a place where it begins and one where it ends.

The stops of one group are visited by levels: all of a lower level before any of a higher one.
This is the sequential ordering problem with the precedence of nested contours (Escudero 1988, from
memory); few stops are solved exactly by dynamic programming (Held & Karp 1962, from memory).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import dist, inf
from random import Random

import numpy as np
from numpy.typing import NDArray

from sketcher.geometry.curves import XY
from sketcher.interrupt import check

EXACT = 9
"""So many stops are solved exactly: 2^9 x 9 x 9 steps take some hundredths of a second."""

MOST_KICKS, KICKED = 60, 8000
"""The most kicks, and kicks times stops: a large plate is kicked a few times only."""

LONGEST_RUN = 3
"""Runs of up to so many stops are moved as one (Or 1976, from memory)."""

NEIGHBORS = 12
"""A stop is tried beside so many of those nearest to it; more found no shorter ways."""

LEAST = 1e-9
"""A way shorter by less than this part of it is the same."""

Row = list[int]


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
        start: XY | None,
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


def shortest(stops: Stops) -> Row:
    """Return the stops in a short order; never a longer one than that in which they come.

    Raises
    ------
    Stopped
        When nobody wants it any more.
    """
    if len(stops) <= 1:
        return list(range(len(stops)))
    if len(stops) <= EXACT:
        return _exact(stops)
    drawn = list(range(len(stops)))
    near = min((_nearest_next(stops, first) for first in _firsts(stops)), key=stops.way)
    best = improved(stops, near)
    if stops.allowed(drawn):
        best = min(best, improved(stops, drawn), key=stops.way)
    chance, length = Random(len(stops)), stops.way(best)
    for _ in range(min(MOST_KICKS, KICKED // len(stops))):
        kicked, torn = _kicked(stops, best, chance)
        tried = improved(stops, kicked, torn)
        if stops.way(tried) < length * (1.0 - LEAST):
            best, length = tried, stops.way(tried)
    return best


def _exact(stops: Stops) -> Row:
    """Return the shortest order of all, set by set of what has been visited."""
    size = len(stops)
    before = [sum(1 << b for b in range(size)
                  if stops.levels[b][0] == stops.levels[a][0]
                  and stops.levels[b][1] < stops.levels[a][1]) for a in range(size)]
    begins, ends = stops.begins.tolist(), stops.ends.tolist()
    step = [[dist(end, begin) for begin in begins] for end in ends]
    best: list[dict[int, tuple[float, int]]] = [{} for _ in range(1 << size)]
    for a in range(size):
        if not before[a]:
            best[1 << a][a] = (dist(stops.start, begins[a]) if stops.start else 0.0, -1)
    for visited in range(1, 1 << size):
        for a, (length, _) in best[visited].items():
            for b in range(size):
                if visited >> b & 1 or before[b] & ~visited:
                    continue
                there = best[visited | 1 << b]
                if length + step[a][b] < there.get(b, (inf, -1))[0]:
                    there[b] = (length + step[a][b], a)
    visited = (1 << size) - 1
    at = min(best[visited], key=lambda a: best[visited][a][0])
    row: Row = []
    while at >= 0:
        row.append(at)
        at, visited = best[visited][at][1], visited & ~(1 << at)
    return row[::-1]


def _firsts(stops: Stops) -> Iterator[int | None]:
    """Yield where ways begin that are tried: at the start, or at the outermost places."""
    if stops.start is not None:
        yield None
        return
    low = [k for k in range(len(stops))
           if stops.levels[k][1] == min(level for group, level in set(stops.levels)
                                        if group == stops.levels[k][0])]
    for sx, sy in ((1.0, 1.0), (-1.0, 1.0), (1.0, -1.0), (-1.0, -1.0)):
        yield min(low, key=lambda k: (sx * stops.begins[k, 0] + sy * stops.begins[k, 1], k))


def _nearest_next(stops: Stops, first: int | None) -> Row:
    """Return the order in which the nearest stop that may come is always next."""
    size = len(stops)
    left: dict[tuple[int, int], int] = {}
    for level in stops.levels:
        left[level] = left.get(level, 0) + 1
    members: dict[tuple[int, int], list[int]] = {}
    for k, level in enumerate(stops.levels):
        members.setdefault(level, []).append(k)
    queue: dict[int, list[tuple[int, int]]] = {}
    for level in sorted(left):
        queue.setdefault(level[0], []).append(level)
    open_now = np.zeros(size, bool)
    for levels in queue.values():
        open_now[members[levels[0]]] = True
    row: Row = []
    at = np.array(stops.start) if stops.start is not None else None
    while len(row) < size:
        check()
        if at is None and first is not None:
            k = first
        else:
            away = stops.begins - (at if at is not None else 0.0)
            far = np.where(open_now, np.hypot(away[:, 0], away[:, 1]), inf)
            k = int(far.argmin())
        row.append(k)
        open_now[k] = False
        at = stops.ends[k]
        level = stops.levels[k]
        left[level] -= 1
        if not left[level]:
            levels = queue[level[0]]
            levels.pop(0)
            if levels:
                open_now[members[levels[0]]] = True
    return row


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


def _kicked(stops: Stops, row: Row, chance: Random) -> tuple[Row, Row]:
    """Return a row in which two runs have changed places, and the stops beside the seams."""
    for _ in range(10):
        a, b, c = sorted(chance.sample(range(len(row) + 1), 3))
        new = [*row[:a], *row[b:c], *row[a:b], *row[c:]]
        if stops.allowed(new):
            seams = {k for seam in (a, a + c - b, c) for k in (seam - 1, seam) if 0 <= k < len(row)}
            return new, [new[k] for k in sorted(seams)]
    return row, []


NEAR = 12
"""Stops go no further along the row to cool than this: beyond, they cost more than is to spend."""


def cooled(stops: Stops, row: Row, pairs: frozenset[tuple[int, int]], most: float) -> Row:
    """Return a row with fewer of the pairs one right after the other, no longer than `most`.

    Parameters
    ----------
    stops : Stops
    row : list of int
        Allowed.
    pairs : set of (int, int)
        Stops that heat each other, the lower number first.
    most : float
        Length of the rapid moves that is not to be passed.
    """
    changed = bool(pairs)
    while changed:
        changed = False
        cooling = _Cooling(stops, row, pairs)
        offers = [(offer[0], a, b) for a, b in pairwise(row)
                  if (min(a, b), max(a, b)) in pairs and (offer := cooling.offer(a, b))]
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

    def _hot(self, a: int | None, b: int | None) -> int:
        return a is not None and b is not None and (min(a, b), max(a, b)) in self.pairs

    def offer(self, a: int, b: int) -> tuple[float, int, int] | None:
        """Return the cheapest move that cools a pair: its cost, the place and the new place."""
        k = self.place[a]
        if k + 1 >= len(self.row) or self.row[k + 1] != b:
            return None
        found = [(cost, i, at) for i in (k, k + 1)
                 for at in range(max(self.last[i] + 1, i - NEAR, 0),
                                 min(self.first[i], i + NEAR + 1, len(self.row)))
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
