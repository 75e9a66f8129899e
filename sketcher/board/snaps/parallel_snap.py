"""Parallel to a line that was pointed at lately, or to the one before."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_base import Snap, directed
from sketcher.geometry.curves import XY, Line


class ParallelSnap(Snap):
    """The line runs parallel to another one."""

    name = "parallel"
    word = "parallel to"
    hint = "Draws parallel to a line that the pointer was on before."
    rank = 5

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the places from which the line would be parallel to one touched lately."""
        if not around.straight:
            return
        for name, direction in touched_lines(around):
            if name != around.before:
                yield from directed(around, self, direction, f"{self.word} {name}",
                                    (Tie("parallel", ("@curve", name)),))


def touched_lines(around: Around) -> Iterator[tuple[str, XY]]:
    """Give the lines touched lately and the one before, with their directions."""
    names = dict.fromkeys((*around.touched, *((around.before,) if around.before else ())))
    for name in names:
        piece = around.picker.by_id.get(name)
        if piece is not None and isinstance(piece.curve, Line) and name in around.part.curves:
            x, y = piece.curve.direction
            if min(abs(x), abs(y)) > 1e-9:  # level and plumb have snaps of their own
                yield name, (x, y)


SNAP = ParallelSnap()
