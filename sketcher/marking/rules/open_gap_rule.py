"""Where the outline is open: two ends that should meet, or an edge with a break."""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake
from sketcher.marking.slip import Slip


def decide(comparison: Comparison) -> tuple[Mistake, ...]:
    """Return where the outline is open."""
    return tuple(_mistake(comparison, slip) for slip in comparison.pieces.of("open-gap"))


def _mistake(comparison: Comparison, slip: Slip) -> Mistake:
    words = comparison.pieces.words
    size = words.amount(slip.amount)
    if len(slip.keys) == 1:
        text = f"{words.feature(slip.keys[0])} has a gap of {size} in it"
    else:
        text = f"{words.features(slip.keys)} do not meet: there is a gap of {size}"
    return Mistake(slip.at, f"gap of {size}", "closed", text, comparison.pieces.entities(slip))


RULE = MarkingRule("open-gap", "an outline that is open", 5.0, 10.0, "outline", decide, rank=1)
