"""At the height of a point that was pointed at lately."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.board.snap import Snap, directed
from sketcher.board.spot import Around, Spot
from sketcher.board.ties import Tie


class LevelWith(Snap):
    """The new point lies level with another point."""

    name = "level with"
    word = "level with"
    hint = "Draws level with a point that the pointer was on before."
    rank = 7

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the places level with the points touched lately."""
        for name in around.touched:
            place = around.part.points.get(name)
            if place is not None and name != around.start_point:
                yield from directed(around, self, (1.0, 0.0), f"{self.word} {name}",
                                    (Tie("level", (name, "@")),), place)


SNAP = LevelWith()
