"""The readout's zero."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_base import Snap
from sketcher.board.places.zero import zero_point


class ZeroSnap(Snap):
    """The zero of the readout; the first point that is put there is fixed."""

    name = "zero"
    word = "zero"
    hint = "Takes the zero of the readout; a point put there holds the part in place."
    rank = 1

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the zero when it is within reach."""
        place = around.zero.place(around.part)
        if dist(place, around.pointer.at) > around.pointer.reach:
            return
        point = zero_point(around.part, around.zero)
        if point is not None and point == around.start_point:
            return
        held = any(b.kind == "fixed" for b in around.part.bindings.values())
        ties = () if point is not None or held else (Tie("fixed", ("@",)),)
        yield Spot(place, self.word, ties, point, "zero", rank=self.rank)


SNAP = ZeroSnap()
