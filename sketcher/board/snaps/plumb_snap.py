"""Plumb: straight above or below the start."""

from __future__ import annotations

from sketcher.board.places.snap_base import Heading


class PlumbSnap(Heading):
    """The piece runs plumb from its start."""

    name = "plumb"
    word = "plumb"
    hint = "Draws plumb (vertical) from the start."
    direction = (0.0, 1.0)


SNAP = PlumbSnap()
