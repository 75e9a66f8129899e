"""Arcs and circles drawn as chords, with the decimals of the program that wrote them."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from itertools import pairwise
from math import tau
from random import Random

from tests.damage.strokes import Bow, Ring, Spoiled, Straight, Stroke, chord_count
from tests.damage.ways.way import Way


def in_chords(stroke: Stroke, sagitta: float, random: Random) -> list[Stroke]:
    """Equal chords with their ends on the arc, a circle from a random place on."""
    if isinstance(stroke, Straight):
        return [stroke]
    if isinstance(stroke, Ring):
        start = random.uniform(0.0, 6.0)
        bow = Bow(stroke.center, stroke.radius, start, tau)
    else:
        bow = stroke
    count = chord_count(bow.radius, bow.sweep, sagitta)
    ends = [bow.at(k / count) for k in range(count + 1)]
    if isinstance(stroke, Ring):
        ends[-1] = ends[0]
    return [Straight(a, b) for a, b in pairwise(ends)]


def spoil(sagitta: float, decimals: int, drawing: Spoiled, random: Random) -> Spoiled:
    """Chords within `sagitta` millimetres."""
    reach = sagitta * drawing.millimetre
    loops = tuple(tuple(chord for stroke in loop for chord in in_chords(stroke, reach, random))
                  for loop in drawing.loops)
    return replace(drawing, loops=loops, chorded=reach, decimals=decimals)


WAYS = tuple(Way(f"chords-{sagitta}-{decimals}", partial(spoil, sagitta, decimals), 0)
             for sagitta, decimals in ((0.1, 3), (0.1, 4), (0.01, 4), (0.01, 6)))
