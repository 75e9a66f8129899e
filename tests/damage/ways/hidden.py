"""Rubbish on layers that are off or frozen."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from tests.damage.strokes import Ring, Spoiled, Straight, Stroke
from tests.damage.ways.way import Way


def spoil(drawing: Spoiled, random: Random) -> Spoiled:
    """Lines and circles across the part."""
    span = 100.0 * drawing.millimetre
    rubbish: list[Stroke] = [Straight((random.uniform(-span, span), random.uniform(-span, span)),
                                      (random.uniform(-span, span), random.uniform(-span, span)))
                             for _ in range(8)]
    rubbish += [Ring((random.uniform(-span, span), random.uniform(-span, span)), 0.1 * span)
                for _ in range(4)]
    return replace(drawing, rubbish=tuple(rubbish))


WAYS = (Way("hidden", spoil),)
