"""Center lines that lie on each other."""

from __future__ import annotations

from sketcher.geometry.evaluate import midpoint
from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the places where center lines lie on each other, one mistake for all on one line."""
    evidence = comparison.center_evidence
    if evidence.undecided is not None:
        return evidence.undecided
    mistakes = []
    for group in evidence.doubled:
        shortest = min(group, key=lambda stroke: stroke.curve.length)
        mistakes.append(Mistake(
            evidence.back(midpoint(shortest.curve)), "drawn twice", "drawn once",
            "center lines lie on each other",
            tuple(sorted({stroke.entity for stroke in group}))))
    return tuple(sorted(mistakes, key=lambda each: each.at))


RULE = MarkingRule("center-line-doubled", "center lines on each other", 2.0, 4.0, "center lines",
                   decide, rank=4)
