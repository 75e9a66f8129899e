"""Edges that break where they should run on smoothly."""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake
from sketcher.marking.slip import Slip


def decide(comparison: Comparison) -> tuple[Mistake, ...]:
    """Return what is not tangent."""
    return tuple(_mistake(comparison, slip) for slip in comparison.pieces.of("not-tangent"))


def _mistake(comparison: Comparison, slip: Slip) -> Mistake:
    words = comparison.pieces.words
    name = words.feature(slip.keys[0])
    return Mistake(slip.at, "a corner", "tangent",
                   f"{name} does not run smoothly into its neighbors{words.alike(slip.count)}",
                   comparison.pieces.entities(slip), slip.count)


RULE = MarkingRule("not-tangent", "edges that are not tangent", 3.0, 9.0, "outline", decide, rank=8)
