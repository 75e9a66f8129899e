"""Edges that run in another direction, where no dimension of the key explains it."""

from __future__ import annotations

from math import degrees

from sketcher.drafting.rebuild.drawn_outline import heading
from sketcher.geometry.curves import Line
from sketcher.geometry.evaluate import turn
from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake
from sketcher.marking.slip import Slip


def decide(comparison: Comparison) -> tuple[Mistake, ...]:
    """Return which edges run in another direction."""
    return tuple(_mistake(comparison, slip) for slip in comparison.pieces.of("wrong-angle"))


def _mistake(comparison: Comparison, slip: Slip) -> Mistake:
    words = comparison.pieces.words
    name = words.loop(slip.keys[0]) if slip.word == "loop" else words.feature(slip.keys[0])
    mine, theirs = (comparison.pieces.key[slip.keys[0]].curve,
                    comparison.features[slip.hand[0]].curve)
    found = wanted = ""
    tilt = slip.amount
    if isinstance(mine, Line) and isinstance(theirs, Line) and not slip.word:
        found, wanted = words.angle(heading(theirs)), words.angle(heading(mine))
        tilt = (degrees(turn(mine.direction, theirs.direction)) + 90.0) % 180.0 - 90.0
    way = "counter-clockwise" if tilt > 0.0 else "clockwise"
    return Mistake(slip.at, found, wanted,
                   f"{name} is turned by {words.angle(abs(tilt))} {way}{words.alike(slip.count)}",
                   comparison.pieces.entities(slip), slip.count)


RULE = MarkingRule("wrong-angle", "an edge in another direction", 3.0, 9.0,
                   "outline", decide, rank=9)
