"""An axis of the part without its center line."""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the axes that are not drawn; where no center line is, the marks' rule says so."""
    evidence = comparison.center_evidence
    if evidence.all_by_rule is not None:
        return evidence.all_by_rule
    if evidence.blank:
        return ()
    mistakes = []
    for axis in evidence.wanted.axes:
        if not evidence.has(axis):
            middle = axis.carrier.at(0.5 * (axis.low + axis.high))
            found = "a piece of it" if evidence.along(axis) else "none"
            mistakes.append(Mistake(evidence.back(middle), found, "a center line",
                                    "the axis of the part has no center line"))
    return tuple(sorted(mistakes, key=lambda each: each.at))


RULE = MarkingRule("axis-missing", "an axis without center line", 2.0, 2.0, "center lines", decide,
                   rank=8)
