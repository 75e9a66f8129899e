"""Quadrants: the rightmost, highest, leftmost and lowest places of arcs and circles."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_base import Snap
from sketcher.geometry.curves import Arc, Line
from sketcher.geometry.project import in_sweep
from sketcher.part.curve_questions import center_of

WAYS = (((1.0, 0.0), "level"), ((0.0, 1.0), "plumb"), ((-1.0, 0.0), "level"),
        ((0.0, -1.0), "plumb"))


class QuadrantSnap(Snap):
    """A place of a round that is level or plumb with its center."""

    name = "quadrant"
    word = "quadrant"
    hint = "Takes the place of a circle or arc that is level or plumb with its center."
    rank = 2

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the quadrants within reach."""
        at, reach = around.pointer.at, around.pointer.reach
        for pick in around.picker.curves_near(at, reach):
            curve = around.picker.by_id[pick.id].curve
            if isinstance(curve, Line):
                continue
            (cx, cy), r = curve.center, curve.radius
            for (ux, uy), kind in WAYS:
                place = (cx + r * ux, cy + r * uy)
                if dist(place, at) > reach or (
                    isinstance(curve, Arc) and not in_sweep(curve, place, 1e-9 * r)
                ):
                    continue
                ties: tuple[Tie, ...] = ()
                center = center_of(around.part.curves[pick.source])
                if pick.drawn and center is not None:
                    ties = (Tie("on", ("@", pick.id)), Tie(kind, (center, "@")))
                yield Spot(place, f"{self.word} of {pick.id}", ties, None, "quadrant",
                           rank=self.rank)


SNAP = QuadrantSnap()
