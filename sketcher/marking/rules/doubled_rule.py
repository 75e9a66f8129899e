"""Edges that are drawn more than once."""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake
from sketcher.marking.slip import Slip


def decide(comparison: Comparison) -> tuple[Mistake, ...]:
    """Return what is drawn more than once."""
    return tuple(_mistake(comparison, slip) for slip in comparison.pieces.of("doubled"))


def _mistake(comparison: Comparison, slip: Slip) -> Mistake:
    words = comparison.pieces.words
    name = words.feature(slip.keys[0])
    if slip.word == "all":
        text = f"the outline is drawn twice, {slip.count} of its edges and holes"
    elif slip.word == "beside":
        text = f"{name} is drawn a second time close beside itself"
    else:
        text = f"{name} is drawn twice over a length of {words.amount(slip.amount)}"
    return Mistake(slip.at, "twice", "once", text, comparison.pieces.entities(slip),
                   slip.count)


RULE = MarkingRule("doubled", "an edge drawn twice", 2.0, 6.0, "outline", decide, rank=3)
