"""Center lines of arcs: the middle of a curved slot, and a center that a dimension goes to."""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return curved slots without a center line along the middle, and located arcs without a mark.

    An arc of half a turn or more is the marks' rule's, a smaller one that no dimension locates has
    no center lines.
    """
    evidence = comparison.center_evidence
    if evidence.all_by_rule is not None:
        return evidence.all_by_rule
    if evidence.blank:
        return ()
    mistakes = [
        Mistake(evidence.back(path.places[0].at), "none", "a center line along its middle",
                "the curved slot has no center line along its middle")
        for path in evidence.wanted.paths
        if evidence.ring(path) is None and any(evidence.through(each) for each in path.places)]
    mistakes += [
        Mistake(evidence.back(center.at), "none", "two center lines",
                f"the center of {center.words}, which is dimensioned, has no center lines")
        for center in evidence.wanted.centers
        if center.sort == "located arc" and not evidence.is_marked(center)]
    return tuple(sorted(mistakes, key=lambda each: each.at))


RULE = MarkingRule("arc-center-line", "center lines of arcs and curved slots", 2.0, 4.0,
                   "center lines", decide, rank=6)
