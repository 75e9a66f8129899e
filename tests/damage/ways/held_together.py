"""Contours as polylines with bulges, or in scaled and turned blocks."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from tests.damage.strokes import Spoiled
from tests.damage.ways.way import Way


def polylines(drawing: Spoiled, _random: Random) -> Spoiled:
    """Each contour one polyline."""
    return replace(drawing, joined=True)


def blocks(drawing: Spoiled, _random: Random) -> Spoiled:
    """A block within a block, drawn at a quarter of its size."""
    return replace(drawing, scale=4.0)


WAYS = (Way("polylines", polylines), Way("blocks", blocks))
