"""A short way through stops, each with a place where it begins and one where it ends.

The stops of one group are visited by levels: all of a lower level before any of a higher one.
This is the sequential ordering problem with the precedence of nested contours (Escudero 1988, from
memory); few stops are solved exactly by dynamic programming (Held & Karp 1962, from memory).
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from math import dist, inf
from random import Random

import numpy as np

from sketcher.interrupt import check
from sketcher.shop.stops import Row, Stops
from sketcher.shop.way_moves import LEAST, improved

EXACT = 9
"""So many stops are solved exactly: 2^9 x 9 x 9 steps take some hundredths of a second."""

MOST_KICKS, KICKED = 60, 8000
"""The most kicks, and kicks times stops: a large plate is kicked a few times only."""

KICK_TRIALS = 10
"""Draws of a kick that the levels allow, before none is made."""


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


def _firsts(stops: Stops) -> Iterator[int]:
    """Yield where ways begin that are tried: nearest to the start, or at the outermost places."""
    lowest: dict[int, int] = {}
    for group, level in stops.levels:
        lowest[group] = min(level, lowest.get(group, level))
    low = [k for k, (group, level) in enumerate(stops.levels) if level == lowest[group]]
    if stops.start is not None:
        away = stops.begins[low] - np.array(stops.start)
        yield low[int(np.hypot(away[:, 0], away[:, 1]).argmin())]
        return
    for sx, sy in ((1.0, 1.0), (-1.0, 1.0), (1.0, -1.0), (-1.0, -1.0)):
        yield min(low, key=lambda k: (sx * stops.begins[k, 0] + sy * stops.begins[k, 1], k))


def _nearest_next(stops: Stops, first: int) -> Row:
    """Return the order in which the nearest stop that may come is always next."""
    waiting: dict[int, list[list[int]]] = {}
    by_level = sorted(range(len(stops)), key=stops.levels.__getitem__)
    for (group, _), alike in groupby(by_level, key=stops.levels.__getitem__):
        waiting.setdefault(group, []).append(list(alike))
    left = dict.fromkeys(waiting, 0)
    open_now = np.zeros(len(stops), bool)

    def open_next(group: int) -> None:
        if waiting[group]:
            level = waiting[group].pop(0)
            left[group] = len(level)
            open_now[level] = True

    for group in waiting:
        open_next(group)
    row, k = [first], first
    while len(row) < len(stops):
        check()
        open_now[k] = False
        group = stops.levels[k][0]
        left[group] -= 1
        if not left[group]:
            open_next(group)
        away = stops.begins - stops.ends[k]
        k = int(np.where(open_now, np.hypot(away[:, 0], away[:, 1]), inf).argmin())
        row.append(k)
    return row


def _kicked(stops: Stops, row: Row, chance: Random) -> tuple[Row, Row]:
    """Return a row in which two runs have changed places, and the stops beside the seams."""
    for _ in range(KICK_TRIALS):
        a, b, c = sorted(chance.sample(range(len(row) + 1), 3))
        new = [*row[:a], *row[b:c], *row[a:b], *row[c:]]
        if stops.allowed(new):
            seams = {k for seam in (a, a + c - b, c) for k in (seam - 1, seam) if 0 <= k < len(row)}
            return new, [new[k] for k in sorted(seams)]
    return row, []
