"""Rounds of another size, where no dimension of the key explains it."""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake
from sketcher.marking.slip import Slip


def decide(comparison: Comparison) -> tuple[Mistake, ...]:
    """Return which rounds have another size."""
    return tuple(_mistake(comparison, slip) for slip in comparison.pieces.of("wrong-size"))


def _mistake(comparison: Comparison, slip: Slip) -> Mistake:
    words = comparison.pieces.words
    wanted = words.size(comparison.pieces.key[slip.keys[0]].curve)
    found = words.size(comparison.features[slip.hand[0]].curve)
    name = words.feature(slip.keys[0], sized=False)
    text = f"{name} is {found}, not {wanted}{words.alike(slip.count)}"
    return Mistake(slip.at, found, wanted, text, comparison.pieces.entities(slip),
                   slip.count)


RULE = MarkingRule("wrong-size", "a hole or arc of another size", 3.0, 15.0,
                   "outline", decide, rank=7)
