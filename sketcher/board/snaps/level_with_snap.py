"""At the height of a point that was pointed at lately."""

from __future__ import annotations

from sketcher.board.places.snap_base import InLineWith


class LevelWithSnap(InLineWith):
    """The new point lies level with another point."""

    name = "level with"
    word = "level with"
    hint = "Draws level with a point that the pointer was on before."
    kind = "level"
    direction = (1.0, 0.0)


SNAP = LevelWithSnap()
