"""Makes room for a dimension that stands badly: what is in its way is put elsewhere.

What is put elsewhere may need room in its turn. So a chain of moves is looked for, and carried out
only where all together come out cheaper.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from itertools import count
from typing import TYPE_CHECKING

import numpy as np

from sketcher.drafting.layout.dimension_places import Options
from sketcher.drafting.layout.ink import Array

if TYPE_CHECKING:
    from sketcher.drafting.layout.choose import Chooser, Found

LEAST_GAIN = 0.05
IN_THE_WAY = 20.0  # from a leader across an extension line on, a clash is worth a move
MOST_PUSHED, EACH_WAY = 4, 3
"""Dimensions that are put elsewhere for one, and places of it that are tried for the same ones: the
cheapest may wall in what another leaves room for."""
OPENINGS = (0, 2, 5, 12)
"""Places that are tried, by the moves that may follow. On 18 crowded plates 3 and 8 in place of 2
and 5 were no better."""
PUSHED, PER_CLASH, MOST_CLASH = 6.0, 1e-4, 12.0
"""What one that has to move counts while places are compared: the more, the more of it is in the
way, for then it can hardly stay near."""


class Room:
    """Makes room among the dimensions of one drawing.

    What was tried in vain is tried again only once something that was to make way has moved.
    """

    def __init__(self, chooser: Chooser) -> None:
        self.chooser = chooser
        self._ticks, self._moved = 0, np.zeros(len(chooser.places))
        self._failed: dict[int, tuple[int, int, set[int]]] = {}
        self._involved: set[int] = set()
        self._leasts: dict[int, float] = {}

    def make(self, one: int, deep: int) -> bool:
        """Let a dimension stand better, if that makes all together cheaper.

        Parameters
        ----------
        one : int
        deep : int
            Moves of others that may follow one another; 0 takes a free place only.
        """
        chooser = self.chooser
        tick, depth, involved = self._failed.get(one, (-1, -1, set()))
        if depth >= deep and self._moved[sorted(involved)].max(initial=0) <= tick:
            deep = 0
        before, state = chooser.total, chooser.state()
        self._involved, self._ticks = {one}, self._ticks + 1
        chooser.leave(one)
        if self._place(one, before - LEAST_GAIN, deep, frozenset()):
            moved = [k for k, there in state[0].items() if chooser.at[k] is not there]
            self._moved[moved] = self._ticks
            return True
        chooser.restore(state)
        if deep > 0:
            self._failed[one] = (self._ticks, deep, self._involved)
        return False

    def into_rows(self, one: int) -> bool:
        """Let one that stands within the part go into a row beside it, if all come out cheaper.

        The rows of one side are filled anew, the shorter lengths first: where each row holds
        something, no chain of a few moves would shift all of them outwards.
        """
        return any(self._refilled(one, ladder) for ladder in self.chooser.places[one].ladders)

    def _refilled(self, one: int, ladder: tuple[float, float]) -> bool:
        chooser = self.chooser
        before, state = chooser.total, chooser.state()
        stay = chooser.fixed | chooser.held
        group = {one, *(k for k in chooser.rows.on(ladder) if k not in stay)}
        # Leaders and angles turn elsewhere more easily than lengths do.
        rest = {k: there.place for k, there in chooser.at.items()
                if k not in group and k not in stay and not chooser.places[k].ladders}
        for k in (*group, *rest):
            chooser.leave(k)
        for k in sorted(group, key=lambda k: (chooser.places[k].size, k)):
            chooser.put(k, chooser.best(k))
        chooser.keep(rest)
        for k in rest:
            if any(chooser.pair[k, j] >= IN_THE_WAY for j in group):
                chooser.leave(k)
                chooser.put(k, chooser.best(k))
        if chooser.total < before - LEAST_GAIN:
            return True
        chooser.restore(state)
        return False

    def _place(self, one: int, limit: float, deep: int, held: frozenset[int]) -> bool:
        """Put one that does not stand so that all together cost less than a limit.

        Those `held` must stay where they are.
        """
        chooser = self.chooser
        allowed = limit - chooser.total
        seen: list[tuple[Options, Array]] = []
        best: Found | None = None
        for options, cost, rows in chooser.seen(one, allowed):
            seen.append((options, rows))
            k = int(cost.argmin())
            if cost[k] < allowed:
                allowed = float(cost[k])
                best = chooser.found(options, k, allowed, rows[k])
        if best is not None:
            chooser.put(one, best)
            return True
        if not deep:
            return False
        held |= {one}
        for way, found in self._openings(one, seen, allowed, held)[:OPENINGS[deep]]:
            self._involved |= set(way)
            state = chooser.state()
            for k in way:
                chooser.leave(k)
            chooser.put(one, found)
            if self._place_all(way, limit, deep - 1, held):
                return True
            chooser.restore(state)
            if chooser.spent:
                break
        return False

    def _place_all(
        self, way: tuple[int, ...], limit: float, deep: int, held: frozenset[int]
    ) -> bool:
        """Put several that do not stand so that all together cost less than a limit."""
        rest = sum(self._least(k) for k in way)
        for k in way:
            rest -= self._least(k)
            if not self._place(k, limit - rest, deep, held):
                return False
        return True

    def _least(self, one: int) -> float:
        """Return what one costs at least, whatever stands beside it."""
        if one not in self._leasts:
            places, least = self.chooser.places[one], np.inf
            for number in count():
                if places.bound(number) >= least:
                    break
                options = places.stage(number)
                if options is None:
                    break
                least = min(least, float(options.own.min(initial=np.inf)))
            self._leasts[one] = float(least)
        return self._leasts[one]

    def could_win(self, one: int) -> bool:
        """Tell whether one would stand better anywhere, if nothing stood beside it."""
        return self.chooser.cost(one) > self._least(one) + LEAST_GAIN

    def _openings(
        self, one: int, seen: Sequence[tuple[Options, Array]], allowed: float,
        held: frozenset[int],
    ) -> list[tuple[tuple[int, ...], Found]]:
        """Return places of one with what is in the way there, the most hopeful first."""
        chooser = self.chooser
        beside = chooser.alive.copy()
        beside[one] = 0.0
        standing = beside.nonzero()[0]
        back = np.zeros(len(beside))  # what can be won at most where one is put elsewhere
        stay = chooser.fixed | chooser.held
        back[standing] = [0.0 if k in stay else chooser.cost(k) - self._least(k)
                          for k in standing.tolist()]
        off = np.zeros(len(beside), bool)
        off[list(held | stay)] = True
        ranked: list[tuple[float, tuple[int, ...], Options, int, Array]] = []
        for options, rows in seen:
            rows = rows * beside
            bad = rows >= IN_THE_WAY
            soft = options.own + np.where(bad, 0.0, rows).sum(axis=1)
            can = ((soft - bad @ np.maximum(back, 0.0) < allowed) & bad.any(axis=1)
                   & (bad.sum(axis=1) <= MOST_PUSHED) & ~(bad & off).any(axis=1)).nonzero()[0]
            each = np.where(bad, np.minimum(PUSHED + PER_CLASH * rows, MOST_CLASH), 0.0)
            worth = soft + each.sum(axis=1)
            ranked += [(float(worth[k]), tuple(bad[k].nonzero()[0].tolist()), options, k, rows[k])
                       for k in can.tolist()]
        ranked.sort(key=lambda item: item[0])
        tries: dict[tuple[int, ...], int] = defaultdict(int)
        chosen = []
        for _, way, options, k, row in ranked:
            tries[way] += 1
            if tries[way] <= EACH_WAY:
                chosen.append((way, chooser.found(options, k, 0.0, row)))
            if len(chosen) == max(OPENINGS):
                break
        return chosen
