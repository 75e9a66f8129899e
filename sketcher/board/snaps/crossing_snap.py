"""Crossings of two curves."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import dist

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_base import Snap
from sketcher.geometry.meet import meet

MOST_CURVES = 8


class CrossingSnap(Snap):
    """Where two curves cross or touch; the new point lies on both."""

    name = "crossing"
    word = "crossing"
    hint = "Takes the place where two curves cross."
    rank = 2

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the crossings within reach."""
        at, reach = around.pointer.at, around.pointer.reach
        near = around.picker.curves_near(at, reach)[:MOST_CURVES]
        for one, other in combinations(near, 2):
            curves = [around.picker.by_id[pick.id].curve for pick in (one, other)]
            for place in meet(curves[0], curves[1]):
                if dist(place.point, at) <= reach:
                    ties = tuple(Tie("on", ("@", p.id)) for p in (one, other) if p.drawn)
                    yield Spot(place.point, f"{self.word} of {one.id} and {other.id}", ties, None,
                               "crossing", rank=self.rank)


SNAP = CrossingSnap()
