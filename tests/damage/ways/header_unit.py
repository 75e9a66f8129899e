"""A header that says another unit than the numbers are in, or none."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from tests.damage.strokes import Spoiled
from tests.damage.ways.way import Way


def wrong(drawing: Spoiled, _random: Random) -> Spoiled:
    """The other unit."""
    return replace(drawing, header="in" if drawing.unit == "mm" else "mm")


def silent(drawing: Spoiled, _random: Random) -> Spoiled:
    """None."""
    return replace(drawing, header=None)


WAYS = (Way("unit-wrong", wrong), Way("unit-none", silent))
