"""Chooses the places of all dimensions beside each other.

One after the other takes its cheapest place: lengths across, lengths from the shortest on, then
leaders, then angles. Leaders taken first wall extension lines in (in a trial on 50 plates 61 lines
through holes in place of 37). Then what stands badly is looked at again among all others, and room
is made for it. The work is counted, not timed, so that the same part is always laid out the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import count
from typing import TypeAlias

import numpy as np

from sketcher.drafting.layout.dimension_places import Options, Place, Places, TakenRows, look_ahead
from sketcher.drafting.layout.ink import HARD, Array, Ints, Standing, joined
from sketcher.drafting.layout.make_room import LEAST_GAIN, Room
from sketcher.interrupt import check
from sketcher.progress import counted

DEAR = 3.0
"""Clashes that cost more are looked at again: what less buys is not seen on the sheet."""
DEEP, MANY = 3, 60
"""Moves in a chain that makes room, and dimensions above which one must do: among a hundred, longer
chains cost 0.3 s more and found nothing."""


@dataclass(frozen=True, slots=True)
class Effort:
    """How much is done after the first order.

    Parameters
    ----------
    rounds : int
        Times that what stands badly is looked at again: the first time where there is a free place
        by now, then with others put elsewhere, then with others that put others elsewhere.
    most : float
        Work after which nothing further is begun: pairs of pieces looked at, and `CALL` for each
        time; some 40 million a second.
    """

    rounds: int
    most: float


QUICK = Effort(0, 2e7)
"""To see how much room the dimensions need, and for a first picture on the screen."""
FULL = Effort(3, 1e7)
"""For paper: a third of a second where it is crowded. On 25 crowded drawings five rounds and three
times the work took twice as long and cost 0.2 in a hundred less; where lines still cross that must
not, there is more of both (`STILL_HARD`)."""
STILL_HARD = 2
"""So many rounds more and times as much work where something stands as it must not."""
FRAME = Effort(0, 4e6)
"""For a frame of a gesture: a tenth of a second at most."""
REST = Effort(3, 2e7)
"""For the screen once the part stands still."""


@dataclass(frozen=True, slots=True)
class Found:
    """A place with its ink; what it costs together, on the ground, on bare paper, beside each."""

    cost: float
    own: float
    bare: float
    place: Place
    row: Array
    ink: tuple[Array, Ints, Array]


State: TypeAlias = tuple[dict[int, Found], Array, Array]


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
        self.most = effort.most
        self.ink = Standing([p.most for p in places])
        self.rows = TakenRows()
        self.at: dict[int, Found] = {}
        self.held: frozenset[int] = frozenset()
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
        return self.work > self.most

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
        best: tuple[Options, int, Array] | None = None
        for options, cost, rows in self.seen(one, limit):
            k = int(cost.argmin())
            if cost[k] < limit:
                limit, best = float(cost[k]), (options, k, rows[k])
        return None if best is None else self.found(best[0], best[1], limit, best[2])

    def seen(self, one: int, limit: float) -> Iterator[tuple[Options, Array, Array]]:
        """Give places that could cost less than a limit and than those given before.

        With each its cost beside all others that stand, and what it costs beside each dimension.
        """
        check()
        beside = self.alive.copy()
        beside[one] = 0.0
        for number in count():
            if self.places[one].bound(number) >= limit or (
                    number > 0 and limit < np.inf and self.spent):
                return
            options: Options | None = self.places[one].stage(number)
            if options is None:
                return
            if not len(options.own):
                continue
            for _ in range(2):
                rows = self.ink.costs(options.batch)
                cost = options.own + rows @ beside
                limit = min(limit, float(cost.min()))
                yield options, cost, rows
                options = self.places[one].slots(options, cost, limit)
                if options is None:
                    break

    def found(self, options: Options, k: int, cost: float, row: Array) -> Found:
        """Return one of some places with its ink."""
        return Found(cost, float(options.own[k]), float(options.bare[k]), options.place(k), row,
                     options.batch.only(k))

    def state(self) -> State:
        """Return where all stand, to come back to."""
        return dict(self.at), self.own.copy(), self.pair.copy()

    def restore(self, state: State) -> None:
        """Let all stand again where they stood."""
        at, own, pair = state
        for k, there in at.items():
            if self.at[k] is not there or not self.alive[k]:
                self.put(k, there)
        self.own, self.pair = own, pair

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
        own = bare + self.places[0].ground.costs(batch)
        nobody = np.zeros(len(self.alive))
        for n, (k, place) in enumerate(kept.items()):
            self.put(k, Found(0.0, float(own[n]), float(bare[n]), place, nobody, batch.only(n)))
        rows = self.ink.costs(batch) * self.alive
        for n, k in enumerate(kept):
            rows[n, k] = 0.0
            self.pair[k] = self.pair[:, k] = rows[n]

    def hold(self, some: Iterable[int]) -> None:
        """Let those of some that have room where they stand, beside each other, not be moved.

        They give way only to another that finds no room at all beside them.
        """
        among = np.zeros(len(self.alive))
        among[list(some)] = 1.0
        self.held = frozenset(
            k for k in among.nonzero()[0].tolist()
            if self.own[k] - self.at[k].bare + self.pair[k] @ among < HARD)

    def settle(self) -> None:
        """Look at those again that cannot stand as they do, the worst first."""
        for one in self._dear(HARD):
            if self.cost(one) >= HARD and not self.spent:
                self._again(one)

    def better(self) -> None:
        """Look again at what stands badly, and make room for it, as far as the effort goes."""
        if not self.effort.rounds:
            return
        room = Room(self)
        self._make_room(room, DEAR)
        self._into_rows(room)
        # Rows that have come free leave gaps.
        for one in sorted(self.at, key=lambda k: self.at[k].bare):
            if one not in self.fixed | self.held and self.places[one].could_come_in(
                    self.rows, self.at[one].place):
                room.make(one, 0)
        if self.held and any(self.cost(k) - self.at[k].bare >= HARD for k in self._dear(HARD)):
            self.held = frozenset()  # what was tried in vain beside them is to be tried again
            self._make_room(Room(self), HARD)

    def _make_room(self, room: Room, least: float) -> None:
        """Let those whose clashes cost more than `least` stand better."""
        deepest = DEEP if len(self.places) <= MANY else 1
        for turn in range(self.effort.rounds + STILL_HARD):
            if turn >= self.effort.rounds and not self._dear(HARD):
                return
            before = self.total
            for one in self._dear(least):
                if self.spent and self._dear(HARD):
                    self.most = STILL_HARD * self.effort.most
                if self.spent:
                    return
                dear = self.cost(one) - self.at[one].bare > least
                # or a nearer row is free
                if (dear and room.could_win(one)) or (turn == 0 and least < HARD):
                    room.make(one, min(turn, deepest))
            if turn == 1 and least < HARD:
                self._into_rows(room)
            if turn >= deepest and self.total > before - LEAST_GAIN:
                break

    def _into_rows(self, room: Room) -> None:
        """Let those that stand within the part go into rows beside it."""
        for one in sorted(self.at, key=lambda k: self.places[k].size):
            if (one not in self.fixed | self.held and not self.spent
                    and self.places[one].stands_within(self.at[one].place)):
                room.into_rows(one)

    @property
    def is_settled(self) -> bool:
        """Whether nothing stands so that it would be looked at again."""
        return not self._dear(DEAR)

    def _dear(self, least: float) -> list[int]:
        """Return the movable ones whose clashes cost more, the dearest first."""
        costs = self.own + self.pair.sum(axis=1)
        costs -= [self.at[k].bare if k in self.at else 0.0 for k in range(len(costs))]
        return [k for k in np.argsort(-costs, kind="stable").tolist()
                if k not in self.fixed and k not in self.held and k in self.at and (
                    costs[k] > least or self.places[k].could_come_in(self.rows, self.at[k].place))]

    def _again(self, one: int) -> None:
        found = self._cheaper(one, self.cost(one) - LEAST_GAIN)
        if found is not None:
            self.put(one, found)
