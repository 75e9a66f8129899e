"""The nearest place on a curve."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_base import Snap, carrier


class OnCurveSnap(Snap):
    """Anywhere on a curve: the new point can slide along it. The axis is named as such."""

    name = "on"
    word = "on"
    hint = "Takes the nearest place on a curve."
    rank = 6

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the nearest places of the curves within reach."""
        for pick in around.picker.curves_near(around.pointer.at, around.pointer.reach):
            piece = around.picker.by_id[pick.id]
            if pick.source == around.before and pick.drawn:
                continue
            if piece.role == "axis":
                word = f"{self.word} the axis {pick.source}"
            elif pick.drawn:
                word = f"{self.word} {pick.id}"
            else:
                word = f"{self.word} the image of {pick.source}"
            ties = (Tie("on", ("@", pick.id)),) if pick.drawn else ()
            rank = self.rank - 1 if piece.role == "axis" else self.rank
            yield Spot(pick.at, word, ties, None, "on", (), carrier(piece.curve), rank)


SNAP = OnCurveSnap()
