"""Centers of arcs and circles."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_base import Snap
from sketcher.part.curve_questions import center_of


class CenterSnap(Snap):
    """The center of an arc or a circle: the point is shared, which makes them concentric."""

    name = "center"
    word = "center"
    hint = "Takes the center of an arc or a circle; both are then concentric."
    rank = 1

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the centers within reach."""
        centers: dict[str, str] = {}
        for name, curve in around.part.curves.items():
            center = center_of(curve)
            if center is not None:
                centers.setdefault(center, name)
        for pick in around.picker.points_near(around.pointer.at, around.pointer.reach):
            if pick.id in centers and pick.id != around.start_point:
                word = f"{self.word} of {centers[pick.id]}"
                yield Spot(pick.at, word, (), pick.id, "center", rank=self.rank)


SNAP = CenterSnap()
