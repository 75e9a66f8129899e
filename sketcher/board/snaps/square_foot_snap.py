"""The foot of the start on a curve: the line meets it square."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_base import Snap
from sketcher.geometry.curves import Line
from sketcher.geometry.project import nearest
from sketcher.part.curve_questions import center_of

REACHES = 1.5


class SquareFootSnap(Snap):
    """The line from the start meets the curve square; with a round it points at the center."""

    name = "square"
    word = "square to"
    hint = "Takes the place where the line meets a curve square."
    rank = 3

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the feet near the pointer."""
        if around.start is None or not around.straight:
            return
        at, reach = around.pointer.at, around.pointer.reach
        for pick in around.picker.curves_near(at, reach, drawn_only=True):
            if pick.id == around.before:
                continue
            curve = around.picker.by_id[pick.id].curve
            foot = nearest(curve, around.start, bounded=isinstance(curve, Line)).point
            if not isinstance(curve, Line):
                far = (2 * curve.center[0] - foot[0], 2 * curve.center[1] - foot[1])
                foot = min(foot, far, key=lambda place: dist(place, at))
            if dist(foot, at) > REACHES * reach or dist(foot, around.start) <= 1e-9 * reach:
                continue
            drawn = around.part.curves[pick.id]
            center = center_of(drawn)
            if center is None:
                square = Tie("square", ("@curve", pick.id))
            else:
                square = Tie("on", (center, "@curve"))
            word = f"{self.word} the axis {pick.id}" if drawn.role == "axis" else (
                f"{self.word} {pick.id}")
            yield Spot(foot, word, (Tie("on", ("@", pick.id)), square), None, "square",
                       rank=self.rank)


SNAP = SquareFootSnap()
