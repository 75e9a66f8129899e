"""Ends: the points of the half."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_base import Snap
from sketcher.part.curve_questions import center_of, ends_of
from sketcher.part.value import Part


class EndSnap(Snap):
    """A point of the half that is no center alone: it is shared, which needs no binding."""

    name = "end"
    word = "end"
    hint = "Takes the end of a curve; both then share one point."
    rank = 0

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the points within reach."""
        for pick in around.picker.points_near(around.pointer.at, around.pointer.reach):
            if pick.id != around.start_point and not is_center_only(around.part, pick.id):
                yield Spot(pick.at, f"{self.word} {pick.id}", (), pick.id, "end", rank=self.rank)


def is_center_only(part: Part, name: str) -> bool:
    """Tell whether a point is the center of a round and no end of any curve."""
    center = False
    for curve in part.curves.values():
        if name in ends_of(curve):
            return False
        center = center or center_of(curve) == name
    return center


SNAP = EndSnap()
