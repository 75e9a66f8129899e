"""Edges, holes and openings of the key that a hand-in does not have."""

from __future__ import annotations

from sketcher.geometry.curves import Line
from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake
from sketcher.marking.slip import Slip


def decide(comparison: Comparison) -> tuple[Mistake, ...]:
    """Return what is missing."""
    return tuple(_mistake(comparison, slip) for slip in comparison.pieces.of("missing-feature"))


def _mistake(comparison: Comparison, slip: Slip) -> Mistake:
    words = comparison.pieces.words
    first = slip.keys[0]
    name = words.loop(first) if slip.word == "loop" else words.feature(first)
    curve = comparison.pieces.key[first].curve
    wanted = "" if slip.word == "loop" or isinstance(curve, Line) else words.size(curve)
    return Mistake(slip.at, "none", wanted, f"{name} is missing{words.alike(slip.count)}", (),
                   slip.count)


RULE = MarkingRule("missing-feature", "an edge, hole or opening that is missing", 5.0, 25.0,
                   "outline", decide, rank=4)
