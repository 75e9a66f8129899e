"""Curves that belong to nothing, and curves without length."""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake
from sketcher.marking.slip import Slip


def decide(comparison: Comparison) -> tuple[Mistake, ...]:
    """Return what belongs to nothing."""
    return tuple(_mistake(comparison, slip) for slip in comparison.pieces.of("stray"))


def _mistake(comparison: Comparison, slip: Slip) -> Mistake:
    words = comparison.pieces.words
    where = words.where(slip.at)
    if slip.word == "speck":
        many = f"{slip.count} curves without length lie" if slip.count > 1 else (
            "a curve without length lies")
        text = f"{many} {where}"
    else:
        text = f"a stray {_noun(comparison, slip)} lies {where}"
    return Mistake(slip.at, words.amount(slip.amount) if slip.amount else "", "", text,
                   comparison.pieces.entities(slip), slip.count)


def _noun(comparison: Comparison, slip: Slip) -> str:
    if len(slip.hand) > 1:
        return f"chain of {len(slip.hand)} curves"
    return "line" if comparison.features[slip.hand[0]].is_line else "arc"


RULE = MarkingRule("stray", "a stray curve", 2.0, 6.0, "outline", decide, rank=2)
