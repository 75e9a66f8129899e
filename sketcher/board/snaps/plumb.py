"""Plumb: straight above or below the start."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.board.snap import Snap, directed, piece_tie
from sketcher.board.spot import Around, Spot


class Plumb(Snap):
    """The piece runs plumb from its start."""

    name = "plumb"
    word = "plumb"
    hint = "Draws plumb from the start."
    rank = 4

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the place straight above or below the start."""
        yield from directed(around, self, (0.0, 1.0), self.word, piece_tie(around, "plumb"))


SNAP = Plumb()
