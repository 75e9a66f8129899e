"""The places that a dimension may take, as numbers that mean the same in the next frame.

A place is named by what it stands beside (a side and a row, an angle and a length), never by where
that is on paper: so what was chosen for a part holds while the part moves. Places come in stages,
the likely ones first; a further stage is looked at only where it could be cheaper.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import count
from typing import ClassVar, TypeAlias

from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.layout.ink import Array, Batch, joined
from sketcher.drafting.layout.paper_ground import Ground
from sketcher.drafting.sizes import Sizes
from sketcher.geometry.curves import XY

Place: TypeAlias = tuple[float, ...]
TOGETHER = 16
"""Dimensions whose first places are judged in one batch: with more the tables of pairs leave the
fast memory."""


class TakenRows:
    """Which rows are taken: by direction and side, the stretches along each row."""

    def __init__(self) -> None:
        self._taken: dict[tuple[float, float], dict[int, tuple[int, float, float]]] = {}

    def nearest(
        self, ladder: tuple[float, float], low: float, high: float, without: int
    ) -> int:
        """Return the nearest row in which a stretch is free but for one dimension."""
        blocked = {row for owner, (row, a, b) in self._taken.get(ladder, {}).items()
                   if owner != without and low < b and a < high}
        return next(row for row in count() if row not in blocked)

    def take(self, ladder: tuple[float, float], owner: int, row: int, low: float, high: float
             ) -> None:
        """Let a dimension take a stretch of a row."""
        self._taken.setdefault(ladder, {})[owner] = (row, low, high)

    def on(self, ladder: tuple[float, float]) -> list[int]:
        """Return the dimensions in the rows of one side."""
        return list(self._taken.get(ladder, {}))

    def leave(self, owner: int) -> None:
        """Take a dimension out."""
        for ladder in self._taken.values():
            ladder.pop(owner, None)


@dataclass
class Places(ABC):
    """The places of one dimension.

    Parameters
    ----------
    number : int
        Of the dimension.
    ground : Ground
    sizes : Sizes
    """

    width: ClassVar[int]
    """Of how many numbers a place is made."""

    number: int
    ground: Ground
    sizes: Sizes
    known: dict[object, Options] = field(default_factory=dict)

    @abstractmethod
    def of_stage(self, number: int) -> Array | None:
        """Return the places of a stage, or None where there are no more."""

    def stage(self, number: int) -> Options | None:
        """Return the places of a stage with what they cost on the bare ground."""
        if number not in self.known:
            places = self.of_stage(number)
            if places is None:
                return None
            self.known[number] = self.options(places)
        return self.known[number]

    def holds(self, place: Place) -> bool:
        """Tell whether a place is one of this kind of dimension: a binding may change its form."""
        return len(place) == self.width

    @abstractmethod
    def bound(self, number: int) -> float:
        """Return what a place of a stage costs at least by itself."""

    @abstractmethod
    def ink(self, places: Array) -> tuple[Array, Batch]:
        """Return what places cost by themselves, and what they would draw."""

    def options(self, places: Array) -> Options:
        """Return places with what they cost on the bare ground."""
        own, batch = self.ink(places)
        return Options(places, own, batch, self.ground.costs(batch))

    @abstractmethod
    def draw(self, place: Place) -> Drawn:
        """Draw the dimension at a place."""

    @abstractmethod
    def draw_at(self, at: XY) -> Drawn:
        """Draw it with the middle of its lettering at, or near, a place on paper."""

    @property
    @abstractmethod
    def most(self) -> int:
        """Pieces that it has at most."""

    def take(self, rows: TakenRows, place: Place) -> None:
        """Note the row that it stands in."""
        rows.leave(self.number)

    def slots(self, options: Options, cost: Array, least: float) -> Options | None:
        """Return further places of the lettering where it is only the lettering that has no room.

        `cost` is that of `options`, `least` of the cheapest place that is known.
        """
        return None

    @property
    def ladders(self) -> tuple[tuple[float, float], ...]:
        """The sides of the part in whose rows it may stand."""
        return ()

    @property
    def size(self) -> float:
        """How long it is, in mm: the shorter stands nearer to the part."""
        return 0.0

    def stands_within(self, place: Place) -> bool:
        """Tell whether a place is within the part, though rows outside it are to be had."""
        return False

    def could_come_in(self, rows: TakenRows, place: Place) -> bool:
        """Tell whether a nearer row is free."""
        return False


class Options:
    """Places of one dimension, with all about them that does not depend on other dimensions."""

    def __init__(self, places: Array, own: Array, batch: Batch, ground: Array) -> None:
        self.places, self.batch, self.bare = places, batch, own
        self.own = own + ground

    def place(self, k: int) -> Place:
        """Return one place by its number."""
        return tuple(self.places[k].tolist())


def look_ahead(some: Sequence[Places]) -> None:
    """Judge the first places of several dimensions on the bare ground, many in one batch."""
    for first in range(0, len(some), TOGETHER):
        found = [(one, places, *one.ink(places)) for one in some[first:first + TOGETHER]
                 if (places := one.of_stage(0)) is not None]
        if not found:
            continue
        costs = found[0][0].ground.costs(joined([batch for *_, batch in found]))
        begin = 0
        for one, places, own, batch in found:
            one.known[0] = Options(places, own, batch, costs[begin:begin + batch.count])
            begin += batch.count
