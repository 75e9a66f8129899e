"""Edges that run past the place where they should end."""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake
from sketcher.marking.slip import Slip


def decide(comparison: Comparison) -> tuple[Mistake, ...]:
    """Return which edges run too far."""
    return tuple(_mistake(comparison, slip) for slip in comparison.pieces.of("overrun"))


def _mistake(comparison: Comparison, slip: Slip) -> Mistake:
    words = comparison.pieces.words
    if slip.word == "round":
        text = f"{words.feature(slip.keys[0])} is drawn all the way round"
    elif slip.word == "through":
        text = f"one curve runs through where {words.features(slip.keys)} should end"
    else:
        text = f"{words.features(slip.keys)} run past their end" if len(slip.keys) > 1 else (
            f"{words.feature(slip.keys[0])} runs past its end")
    size = words.amount(slip.amount)
    if slip.word != "round":
        text += f", by {size}"
    return Mistake(slip.at, f"{size} too far", "", text,
                   comparison.pieces.entities(slip))


RULE = MarkingRule("overrun", "an edge that runs too far", 1.0, 5.0, "outline", decide, rank=13)
