"""Strokes in no order, half of them the other way round."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from tests.damage.strokes import Spoiled, reversed_stroke
from tests.damage.ways.way import Way


def spoil(drawing: Spoiled, random: Random) -> Spoiled:
    """Every stroke for itself."""
    torn = drawing.torn()
    loose = [reversed_stroke(s) if random.random() < 0.5 else s for s in torn.loose]
    random.shuffle(loose)
    return replace(torn, loose=tuple(loose))


WAYS = (Way("shuffled", spoil, 2),)
