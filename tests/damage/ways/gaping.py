"""Ends that were to meet and do not: each stroke falls short or runs over by up to half the gap."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from math import dist
from random import Random

from tests.damage.strokes import Bow, Ring, Spoiled, Straight, Stroke
from tests.damage.ways.way import Way


def shortened(stroke: Stroke, first: float, last: float) -> Stroke:
    """A stroke with lengths taken off its ends."""
    if isinstance(stroke, Ring):
        return stroke
    if isinstance(stroke, Bow):
        way = abs(stroke.sweep) * stroke.radius
        return Bow(stroke.center, stroke.radius, stroke.start + stroke.sweep * first / way,
                   stroke.sweep * (1.0 - (first + last) / way))
    (ax, ay), (bx, by) = stroke.a, stroke.b
    ux, uy = ((c - d) / dist(stroke.a, stroke.b) for c, d in ((bx, ax), (by, ay)))
    return Straight((ax + first * ux, ay + first * uy), (bx - last * ux, by - last * uy))


def spoil(gap: float, drawing: Spoiled, random: Random) -> Spoiled:
    """Gaps of up to `gap` millimetres at every joint, one part of them overruns."""
    most = 0.5 * gap * drawing.millimetre

    def off() -> float:
        return random.uniform(0.3, 1.0) * most * random.choice((1.0, 1.0, -1.0))

    loops = tuple(tuple(shortened(stroke, off(), off()) for stroke in loop)
                  for loop in drawing.loops)
    return replace(drawing, loops=loops, loosened=most).torn()


WAYS = tuple(Way(f"gaps-{gap}", partial(spoil, gap), 1) for gap in (0.001, 0.01, 0.05))
