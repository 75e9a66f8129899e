"""A small error on every written number."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from random import Random

from tests.damage.strokes import Spoiled
from tests.damage.ways.way import Way


def spoil(noise: float, drawing: Spoiled, _random: Random) -> Spoiled:
    """Up to `noise` millimetres on each; put there as the file is written."""
    return replace(drawing, noise=noise * drawing.millimetre)


WAYS = tuple(Way(f"noise-{noise}", partial(spoil, noise)) for noise in (1e-6, 0.0001, 0.001, 0.01))
