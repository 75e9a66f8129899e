"""Step 8: the axes of symmetry, and the half that is kept."""

from __future__ import annotations

from sketcher.intake.linework import HalfShape, Shape
from sketcher.intake.wishes import Wishes


def halved(shape: Shape, wishes: Wishes) -> HalfShape:
    """Return what is to be drawn of a shape."""
    return HalfShape(shape, shape.loops, repairs=shape.repairs)
