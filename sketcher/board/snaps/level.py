"""Level: at the height of the start."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.board.snap import Snap, directed, piece_tie
from sketcher.board.spot import Around, Spot


class Level(Snap):
    """The piece runs level from its start."""

    name = "level"
    word = "level"
    hint = "Draws level from the start."
    rank = 4

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the place at the height of the start."""
        yield from directed(around, self, (1.0, 0.0), self.word, piece_tie(around, "level"))


SNAP = Level()
