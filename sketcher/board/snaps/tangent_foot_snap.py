"""The place where a line from the start touches an arc or a circle."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_base import Snap
from sketcher.geometry.curves import Line
from sketcher.geometry.tangent_lines import tangents_from

REACHES = 2.0


class TangentFootSnap(Snap):
    """The line from the start touches the round there."""

    name = "tangent"
    word = "tangent to"
    hint = "Takes the place where the line touches an arc or a circle."
    rank = 1

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the feet of the tangent lines near the pointer."""
        if around.start is None or not around.straight:
            return
        at, reach = around.pointer.at, around.pointer.reach
        for pick in around.picker.curves_near(at, reach, drawn_only=True):
            curve = around.picker.by_id[pick.id].curve
            if isinstance(curve, Line) or pick.id == around.before:
                continue
            for foot in (line.end for line in tangents_from(around.start, curve)):
                if dist(foot, at) <= REACHES * reach:
                    ties = (Tie("on", ("@", pick.id)), Tie("tangent", ("@curve", pick.id)))
                    yield Spot(foot, f"{self.word} {pick.id}", ties, None, "tangent",
                               rank=self.rank)


SNAP = TangentFootSnap()
