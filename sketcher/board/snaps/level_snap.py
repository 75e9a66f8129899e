"""Level: at the height of the start."""

from __future__ import annotations

from sketcher.board.places.snap_base import Heading


class LevelSnap(Heading):
    """The piece runs level from its start."""

    name = "level"
    word = "level"
    hint = "Draws level (horizontal) from the start."
    direction = (1.0, 0.0)


SNAP = LevelSnap()
