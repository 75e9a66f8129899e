"""Square to a line that was pointed at lately, or to the one before."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_base import Snap, directed
from sketcher.geometry.curves import Line


class SquareToSnap(Snap):
    """The line leaves its start square to another line."""

    name = "square from"
    word = "square to"
    hint = "Draws square to a line that the pointer was on before, or to the piece before."
    rank = 5

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the places from which the line would be square to one touched lately."""
        if not around.straight:
            return
        for name in dict.fromkeys((*around.touched, around.before or "")):
            piece = around.picker.by_id.get(name)
            if piece is None or not isinstance(piece.curve, Line) or not piece.drawn:
                continue
            x, y = piece.curve.direction
            if min(abs(x), abs(y)) > 1e-9:
                yield from directed(around, self, (-y, x), f"{self.word} {name}",
                                    (Tie("square", ("@curve", name)),))


SNAP = SquareToSnap()
