"""What lies elsewhere, and no dimension of the key explains it."""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake
from sketcher.marking.slip import Slip


def decide(comparison: Comparison) -> tuple[Mistake, ...]:
    """Return what is not in its place."""
    return tuple(_mistake(comparison, slip) for slip in comparison.pieces.of("misplaced"))


def _mistake(comparison: Comparison, slip: Slip) -> Mistake:
    words = comparison.pieces.words
    name = words.loop(slip.keys[0]) if slip.word == "loop" else words.feature(slip.keys[0])
    wanted = (slip.at[0] - slip.away[0], slip.at[1] - slip.away[1])
    return Mistake(slip.at, words.place(slip.at), words.place(wanted),
                   f"{name} lies {words.away(slip.away)}{words.alike(slip.count)}",
                   comparison.pieces.entities(slip), slip.count)


RULE = MarkingRule("misplaced", "a feature out of its place", 3.0, 15.0, "outline", decide, rank=6)
