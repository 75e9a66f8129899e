"""The places that a dimension may take, as numbers that mean the same in the next frame.

A place is named by what it stands beside (a side and a row, an angle and a length), never by where
that is on paper: so what was chosen for a part holds while the part moves. Places come in stages,
the likely ones first; a further stage is looked at only where it could be cheaper.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import TypeAlias

from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.layout.ink import Array, Batch
from sketcher.drafting.layout.paper_ground import Ground
from sketcher.drafting.sizes import Sizes
from sketcher.geometry.curves import XY

Place: TypeAlias = tuple[float, ...]
MOST_ROWS = 40


class Rows:
    """Which rows are taken: by direction and side, the stretches along each row."""

    def __init__(self) -> None:
        self._taken: dict[tuple[float, float], dict[int, tuple[int, float, float]]] = {}

    def free(
        self, ladder: tuple[float, float], low: float, high: float, most: int,
        without: Iterable[int],
    ) -> list[int]:
        """Return the nearest rows, rising, in which a stretch is free."""
        gone = set(without)
        blocked = {row for owner, (row, a, b) in self._taken.get(ladder, {}).items()
                   if owner not in gone and low < b and a < high}
        found: list[int] = []
        row = 0
        while len(found) < most and row < MOST_ROWS:
            if row not in blocked:
                found.append(row)
            row += 1
        return found

    def take(self, ladder: tuple[float, float], owner: int, row: int, low: float, high: float
             ) -> None:
        """Let a dimension take a stretch of a row."""
        self._taken.setdefault(ladder, {})[owner] = (row, low, high)

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

    number: int
    ground: Ground
    sizes: Sizes
    known: dict[object, Options] = field(default_factory=dict)

    @abstractmethod
    def stage(self, number: int, rows: Rows, without: Iterable[int]) -> Options | None:
        """Return the places of a stage, or None where there are no more.

        `rows` tells which rows are taken; those of the dimensions `without` count as free.
        """

    @abstractmethod
    def bound(self, number: int) -> float:
        """Return what a place of a stage costs at least by itself."""

    @abstractmethod
    def ink(self, places: Array) -> tuple[Array, Batch]:
        """Return what places cost by themselves, and what they would draw."""

    def options(self, places: Array) -> Options:
        """Return places with what they cost on the bare ground."""
        return Options(places, *self.ink(places), self.ground)

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

    def take(self, rows: Rows, place: Place) -> None:
        """Note the row that it stands in."""
        rows.leave(self.number)

    def slots(self, options: Options, cost: Array, least: float) -> Options | None:
        """Return further places of the lettering where it is only the lettering that has no room.

        `cost` is that of `options`, `least` of the cheapest place that is known.
        """
        return None

    def could_come_in(self, rows: Rows, place: Place) -> bool:
        """Tell whether a nearer row is free."""
        return False


class Options:
    """Places of one dimension, with all about them that does not depend on other dimensions."""

    def __init__(self, places: Array, own: Array, batch: Batch, ground: Ground) -> None:
        self.places, self.batch, self.bare = places, batch, own
        self.own = own + ground.ink.costs(batch)[:, 0]

    def place(self, k: int) -> Place:
        """Return one place by its number."""
        return tuple(self.places[k].tolist())
