"""The whole drawing turned, or far from the origin."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from tests.damage.strokes import Spoiled
from tests.damage.ways.way import Way


def turn(drawing: Spoiled, _random: Random) -> Spoiled:
    """Turned by 13 degrees."""
    return replace(drawing, turn=13.0)


def move(drawing: Spoiled, _random: Random) -> Spoiled:
    """Moved by a thousand."""
    return replace(drawing, shift=(1000.0, -1000.0))


WAYS = (Way("turned", turn), Way("far", move))
