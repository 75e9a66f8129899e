"""A center whose plus is not clear: no dash across it, or no gap on one of its four sides."""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.doubled_runs import is_doubled
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.plus_gaps import plus_fault

FOUND = {"gap": "a gap", "side": "no gap beside the plus"}
WORDS = {"gap": "the center lines of {} cross in a gap, not on a dash",
         "side": "the plus of {} is covered: it wants a gap on all four sides"}


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the centers whose plus is not clear; lines drawn twice are another rule's."""
    evidence = comparison.center_evidence
    if evidence.undecided is not None:
        return evidence.undecided
    mistakes = []
    for center in evidence.wanted.centers:
        if any(is_doubled(run, evidence.doubled) for run, *_ in evidence.through(center)):
            continue
        fault = plus_fault(evidence, center)
        if fault:
            mistakes.append(Mistake(
                evidence.back(center.at), FOUND[fault], "a plus with four gaps",
                WORDS[fault].format(center.words)))
    return tuple(sorted(mistakes, key=lambda each: each.at))


RULE = MarkingRule("plus-covered", "the plus of a center is not clear", 1.0, 4.0, "center lines",
                   decide, rank=2)
