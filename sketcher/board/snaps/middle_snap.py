"""Middles of lines and arcs."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_base import Snap
from sketcher.geometry.curves import Circle, Line
from sketcher.geometry.evaluate import midpoint


class MiddleSnap(Snap):
    """Half way along a curve; on a line of the half it becomes the binding `middle`."""

    name = "middle"
    word = "midpoint"
    hint = "Takes the midpoint of a line or an arc."
    rank = 2

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the middles within reach."""
        at, reach = around.pointer.at, around.pointer.reach
        for pick in around.picker.curves_near(at, reach):
            curve = around.picker.by_id[pick.id].curve
            if isinstance(curve, Circle) or dist(midpoint(curve), at) > reach:
                continue
            ties: tuple[Tie, ...] = ()
            if pick.drawn:
                ties = (Tie("middle" if isinstance(curve, Line) else "on", ("@", pick.id)),)
            yield Spot(midpoint(curve), f"{self.word} of {pick.id}", ties, None, "middle",
                       rank=self.rank)


SNAP = MiddleSnap()
