"""Ends and centers in the mirrored half."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_base import Snap
from sketcher.geometry.curves import XY
from sketcher.part.mirror import Reflector, reflector, taken
from sketcher.part.value import Part


class ImageSnap(Snap):
    """The image of a point of the half: the new point is bound as its reflection."""

    name = "image"
    word = "image of"
    hint = "Takes an end or a center in the mirrored half; the new point is bound as reflected."
    rank = 2

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the images of points within reach."""
        at, reach = around.pointer.at, around.pointer.reach
        for mirror in around.part.mirrors:
            reflection = reflector(around.part, mirror)
            for name in mirrored_points(around.part, taken(around.part, mirror)):
                place = _image(reflection, around.part.points[name])
                if place is not None and dist(place, at) <= reach:
                    tie = Tie("reflected", (name, "@", mirror.axis))
                    yield Spot(place, f"{self.word} {name}", (tie,), None, "image",
                               rank=self.rank)


def mirrored_points(part: Part, curves: frozenset[str]) -> tuple[str, ...]:
    """Return the points of curves, each once."""
    names = (p for n, curve in part.curves.items() if n in curves for p in curve.points)
    return tuple(dict.fromkeys(names))


def _image(reflection: Reflector, place: XY) -> XY | None:
    return None if reflection.on_axis(place) else reflection.point(place)


SNAP = ImageSnap()
