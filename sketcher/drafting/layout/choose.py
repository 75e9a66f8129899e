"""Chooses the places of all dimensions beside each other.

One after the other takes its cheapest place: lengths across, lengths from the shortest on, then
leaders, then angles. Leaders taken first wall extension lines in (in a trial on 50 plates 61 lines
through holes in place of 37). Then each is looked at once more among all others, and what stands
badly takes a place where little is in its way, and that little another one; what is dearer than
before is taken back. The work is counted, not timed, so that the same part is always laid out the
same.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import count

import numpy as np

from sketcher.drafting.layout.dimension_places import Options, Place, Places, Rows, look_ahead
from sketcher.drafting.layout.ink import HARD, Array, Ints, Standing, joined
from sketcher.immutable import immutable
from sketcher.interrupt import check
from sketcher.progress import counted

DEAR = 3.0
"""Clashes that cost more are looked at again: what less buys is not seen on the sheet."""
LEAST_GAIN = 0.05
MOST_PUSHED, OPENINGS = 3, 4
"""Dimensions that are put elsewhere to make room for one, and how many such ways are tried."""
PUSHED = 15.0  # what one that has to move counts while ways are compared


@immutable
class Effort:
    """How much is done after the first order.

    Parameters
    ----------
    sweeps : int
        Times that each is looked at again among all others.
    pushes : int
        Rounds in which what stands badly is given room.
    most : float
        Work after which nothing further is begun: pairs of pieces looked at, and `CALL` for each
        time; some 40 million a second.
    """

    sweeps: int
    pushes: int
    most: float


QUICK = Effort(0, 0, 2e7)
"""To see how much room the dimensions need, and for a first picture on the screen."""
FULL = Effort(2, 3, 3e7)
"""For paper: half a second where it is crowded. Five times as much bettered none of 10 plates."""
FRAME = Effort(0, 0, 4e6)
"""For a frame of a gesture: a tenth of a second at most."""
REST = Effort(1, 2, 2e7)
"""For the screen once the part stands still."""


@immutable
class Found:
    """A place with its ink; what it costs together, on the ground, on bare paper, beside each."""

    cost: float
    own: float
    bare: float
    place: Place
    row: Array
    ink: tuple[Array, Ints, Array]


class Chooser:
    """The dimensions of one drawing while they are being placed.

    Parameters
    ----------
    places : sequence of Places
    fixed : set of int
        Numbers of those that a person has put somewhere; `stand` is called for them.
    effort : Effort
    """

    def __init__(self, places: Sequence[Places], fixed: frozenset[int], effort: Effort) -> None:
        size = len(places)
        self.places, self.fixed, self.effort = places, fixed, effort
        self.ink = Standing([p.most for p in places])
        self.rows = Rows()
        self.at: dict[int, Found] = {}
        self._looked = places[0].ground.ink.looked
        self.alive = np.zeros(size)
        self.own = np.zeros(size)
        self.pair = np.zeros((size, size))

    # One dimension.

    def cost(self, one: int) -> float:
        """Return what a dimension costs where it stands."""
        return float(self.own[one] + self.pair[one].sum())

    @property
    def total(self) -> float:
        """What all cost together, what two cost beside each other counted once."""
        return float(self.own.sum() + 0.5 * self.pair.sum())

    @property
    def spent(self) -> bool:
        """Whether as much has been looked at as the effort allows."""
        return self.work > self.effort.most

    @property
    def work(self) -> int:
        """Pairs of pieces looked at so far, and what each call does besides."""
        return self.ink.looked + self.places[0].ground.ink.looked - self._looked

    def put(self, one: int, found: Found) -> None:
        """Let a dimension stand at a place."""
        self.ink.put(one, *found.ink)
        self.alive[one] = 1.0
        self.own[one] = found.own
        self.pair[one] = self.pair[:, one] = found.row * self.alive
        self.pair[one, one] = 0.0
        self.at[one] = found
        if found.place:
            self.places[one].take(self.rows, found.place)

    def leave(self, one: int) -> None:
        """Take a dimension out."""
        self.alive[one], self.own[one] = 0.0, 0.0
        self.pair[one] = self.pair[:, one] = 0.0
        self.rows.leave(one)

    def best(self, one: int) -> Found:
        """Return the cheapest place of a dimension beside all others that stand."""
        found = self._cheaper(one, np.inf)
        assert found is not None, "every dimension has a place"
        return found

    def _cheaper(self, one: int, limit: float) -> Found | None:
        """Return the cheapest place beside all others if it costs less than a limit."""
        check()
        best: tuple[Options, int, Array] | None = None
        beside = self.alive.copy()
        beside[one] = 0.0
        for number in count():
            if self.places[one].bound(number) >= limit or (
                    number > 0 and limit < np.inf and self.spent):
                break
            options = self.places[one].stage(number)
            if options is None:
                break
            if not len(options.own):
                continue
            cost, rows = self._judged(options, beside)
            k = int(cost.argmin())
            if cost[k] < limit:
                limit, best = float(cost[k]), (options, k, rows[k])
            more = self.places[one].slots(options, cost, limit)
            if more is not None:
                cost, rows = self._judged(more, beside)
                k = int(cost.argmin())
                if cost[k] < limit:
                    limit, best = float(cost[k]), (more, k, rows[k])
        return None if best is None else self._found(best[0], best[1], limit, best[2])

    def _judged(self, options: Options, beside: Array) -> tuple[Array, Array]:
        """Return what places cost beside some others, and beside each dimension."""
        rows = self.ink.costs(options.batch)
        return options.own + rows @ beside, rows

    def _found(self, options: Options, k: int, cost: float, row: Array) -> Found:
        return Found(cost, float(options.own[k]), float(options.bare[k]), options.place(k), row,
                     options.batch.only(k))

    # All together.

    def place_all(self, order: Iterable[int]) -> None:
        """Place one after the other where it is cheapest."""
        some = [one for one in order if one not in self.fixed]
        look_ahead([self.places[one] for one in some])
        for one in counted(some):
            self.put(one, self.best(one))

    def keep(self, kept: Mapping[int, Place]) -> None:
        """Let dimensions stand again where they stood; all are judged in one batch."""
        if not kept:
            return
        inks = [self.places[k].ink(np.array([place])) for k, place in kept.items()]
        batch = joined([ink for _, ink in inks])
        bare = np.concatenate([cost for cost, _ in inks])
        own = bare + self.places[0].ground.ink.costs(batch)[:, 0]
        nobody = np.zeros(len(self.alive))
        for n, (k, place) in enumerate(kept.items()):
            self.put(k, Found(0.0, float(own[n]), float(bare[n]), place, nobody, batch.only(n)))
        rows = self.ink.costs(batch) * self.alive
        for n, k in enumerate(kept):
            rows[n, k] = 0.0
            self.pair[k] = self.pair[:, k] = rows[n]

    def settle(self) -> None:
        """Look at those again that cannot stand as they do, the worst first."""
        for one in self._dear(HARD):
            if self.cost(one) >= HARD and not self.spent:
                self._again(one)

    def better(self) -> None:
        """Look at each again, and give room to what stands badly, as far as the effort goes."""
        for _ in range(self.effort.sweeps):
            before = self.total
            for one in self._dear(DEAR):
                if self.spent:
                    return
                self._again(one)
            if self.total > before - LEAST_GAIN:
                break
        for _ in range(self.effort.pushes):
            before = self.total
            for one in self._dear(DEAR):
                if self.spent:
                    return
                if self.cost(one) - self.at[one].bare > DEAR:
                    self._push(one)
            if self.total > before - LEAST_GAIN:
                break

    @property
    def is_settled(self) -> bool:
        """Whether nothing stands so that it would be looked at again."""
        return not self._dear(DEAR)

    def _dear(self, least: float) -> list[int]:
        """Return the movable ones whose clashes cost more, the dearest first."""
        costs = self.own + self.pair.sum(axis=1)
        costs -= [self.at[k].bare if k in self.at else 0.0 for k in range(len(costs))]
        return [k for k in np.argsort(-costs, kind="stable").tolist()
                if k not in self.fixed and k in self.at and (
                    costs[k] > least or self.places[k].could_come_in(self.rows, self.at[k].place))]

    def _again(self, one: int) -> None:
        found = self._cheaper(one, self.cost(one) - LEAST_GAIN)
        if found is not None:
            self.put(one, found)

    def _push(self, one: int) -> None:
        """Put one where little is in its way, and that little elsewhere; back if dearer."""
        before = self.total
        for way, found in self._openings(one):
            stood = {k: self.at[k] for k in (one, *way)}
            kept = self.own.copy(), self.pair.copy()
            for k in stood:
                self.leave(k)
            self.put(one, found)
            for k in way:
                self.put(k, self.best(k))
                if self.total > before:
                    break
            if len(self.at) == int(self.alive.sum()) and self.total < before - LEAST_GAIN:
                return
            for k, there in stood.items():
                self.put(k, there)
            self.own, self.pair = kept
            if self.spent:
                return

    def _openings(self, one: int) -> list[tuple[tuple[int, ...], Found]]:
        """Return places of one with what is in the way there, the least first."""
        beside = self.alive.copy()
        beside[one] = 0.0
        best: dict[tuple[int, ...], tuple[float, Found]] = {}
        now = self.cost(one)
        for number in count():
            if self.places[one].bound(number) >= now:
                break
            options = self.places[one].stage(number)
            if options is None or (number and self.spent):
                break
            if not len(options.own):
                continue
            rows = self.ink.costs(options.batch) * beside
            bad = rows >= 0.1 * HARD
            worth = options.own + np.where(bad, 0.0, rows).sum(axis=1) + PUSHED * bad.sum(axis=1)
            for k in np.argsort(worth, kind="stable")[:60].tolist():
                way = tuple(np.flatnonzero(bad[k]).tolist())
                if (0 < len(way) <= MOST_PUSHED and self.fixed.isdisjoint(way)
                        and (way not in best or worth[k] < best[way][0])
                        and worth[k] < now):
                    best[way] = (float(worth[k]), self._found(options, k, 0.0, rows[k]))
        ranked = sorted(best.items(), key=lambda item: item[1][0])
        return [(way, found) for way, (_, found) in ranked[:OPENINGS]]
