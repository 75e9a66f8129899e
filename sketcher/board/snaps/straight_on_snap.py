"""Straight on: along the tangent at the end of the piece before."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_base import Snap, directed


class StraightOnSnap(Snap):
    """The line goes on where the piece before was heading; after an arc it is tangent to it."""

    name = "straight on"
    word = "tangent to"
    hint = "Draws on along the tangent of the piece before."
    rank = 3

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the place straight ahead."""
        if not around.straight or around.heading is None or around.before is None:
            return
        drawn = around.part.curves.get(around.before)
        if drawn is None or around.start is None:
            return
        x = around.pointer.x - around.start[0]
        y = around.pointer.y - around.start[1]
        if x * around.heading[0] + y * around.heading[1] <= 0.0:
            return
        if drawn.kind == "line":
            tie, word = Tie("in line", (around.before, "@curve")), f"in line with {around.before}"
        else:
            tie, word = Tie("tangent", ("@curve", around.before)), f"{self.word} {around.before}"
        yield from directed(around, self, around.heading, word, (tie,))


SNAP = StraightOnSnap()
