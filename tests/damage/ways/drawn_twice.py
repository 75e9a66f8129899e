"""Strokes that lie there twice: the same, the other way round, or in part."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from tests.damage.strokes import Ring, Spoiled, Stroke, reversed_stroke
from tests.damage.ways.gaping import shortened
from tests.damage.ways.way import Way


def again(stroke: Stroke, random: Random) -> Stroke:
    """A second drawing of a stroke, exactly on it."""
    way = random.randrange(3)
    if isinstance(stroke, Ring) or way == 0:
        return stroke
    if way == 1:
        return reversed_stroke(stroke)
    long = sum((c - d) ** 2 for c, d in zip(stroke.a, stroke.b, strict=True)) ** 0.5
    return shortened(stroke, random.uniform(0.1, 0.3) * long, random.uniform(0.1, 0.3) * long)


def spoil(drawing: Spoiled, random: Random) -> Spoiled:
    """Two of five strokes twice."""
    torn = drawing.torn()
    more = tuple(again(s, random) for s in torn.loose if random.random() < 0.4)
    return replace(torn, loose=torn.loose + more)


WAYS = (Way("twice", spoil, 2),)
