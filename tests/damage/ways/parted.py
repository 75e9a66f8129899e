"""Curves that were cut in pieces: lines and arcs at a random place, circles into halves."""

from __future__ import annotations

from dataclasses import replace
from math import pi
from random import Random

from tests.damage.strokes import Bow, Ring, Spoiled, Straight, Stroke
from tests.damage.ways.way import Way


def parted(stroke: Stroke, share: float) -> list[Stroke]:
    """Two pieces of a stroke."""
    if isinstance(stroke, Straight):
        (ax, ay), (bx, by) = stroke.a, stroke.b
        mid = (ax + share * (bx - ax), ay + share * (by - ay))
        return [Straight(stroke.a, mid), Straight(mid, stroke.b)]
    if isinstance(stroke, Ring):
        return [Bow(stroke.center, stroke.radius, 6.0 * share, pi),
                Bow(stroke.center, stroke.radius, 6.0 * share + pi, pi)]
    return [Bow(stroke.center, stroke.radius, stroke.start, share * stroke.sweep),
            Bow(stroke.center, stroke.radius, stroke.start + share * stroke.sweep,
                (1.0 - share) * stroke.sweep)]


def spoil(drawing: Spoiled, random: Random) -> Spoiled:
    """Every stroke in two pieces."""
    return replace(drawing, loops=tuple(
        tuple(piece for stroke in loop for piece in parted(stroke, random.uniform(0.2, 0.8)))
        for loop in drawing.loops))


WAYS = (Way("parted", spoil, 0),)
