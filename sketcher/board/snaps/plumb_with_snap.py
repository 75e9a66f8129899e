"""Straight above or below a point that was pointed at lately."""

from __future__ import annotations

from sketcher.board.places.snap_base import InLineWith


class PlumbWithSnap(InLineWith):
    """The new point lies plumb with another point."""

    name = "plumb with"
    word = "plumb with"
    hint = "Draws plumb with a point that the pointer was on before."
    kind = "plumb"
    direction = (0.0, 1.0)


SNAP = PlumbWithSnap()
