"""A center line that runs too little or too far past the outline, or farther at one end."""

from __future__ import annotations

from sketcher.marking.center_evidence import CenterEvidence
from sketcher.marking.center_runs import CenterRun
from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.run_ends import MOST, SLACK, RunEnd, overhang_bounds, paper_length

UNEVEN = 1.5
"""mm on paper between the two overhangs of a line: common practice, no source."""


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the center lines whose overhang is out of bounds, one mistake a line."""
    evidence = comparison.center_evidence
    if evidence.undecided is not None:
        return evidence.undecided
    bounds = overhang_bounds(comparison.key.part.unit, comparison.limits.get(RULE.name))
    mistakes = [mistake for run, ends in evidence.ends
                for mistake in _of_line(evidence, run, ends, bounds)]
    return tuple(sorted(mistakes, key=lambda each: each.at))


def _of_line(
    evidence: CenterEvidence, run: CenterRun, ends: tuple[RunEnd, RunEnd],
    bounds: tuple[float, float],
) -> list[Mistake]:
    unit = evidence.comparison.key.part.unit
    low, high = (paper_length(size, unit) for size in bounds)
    good = []
    for end in ends:
        if end.short is not None or not end.past:
            continue
        within = end.overhangs(bounds)
        if not within:
            over = end.past[0]
            how = "only " if over < bounds[0] else ""
            return [Mistake(
                evidence.back(end.at), paper_length(over, unit), f"{low} to {high}",
                f"the center line runs {how}{paper_length(over, unit)} past the outline",
                run.entities)]
        good.append((end, within))
    if len(good) < 2:
        return []
    (end, one), (_, other) = good
    a, b = min(((a, b) for a in one for b in other), key=lambda pair: abs(pair[0] - pair[1]))
    if abs(a - b) <= UNEVEN + SLACK:
        return []
    texts = [paper_length(size, unit) for size in (a, b)]
    return [Mistake(evidence.back(end.at), " and ".join(texts), "even",
                    f"the center line runs {texts[0]} past the outline at one end, {texts[1]} at "
                    "the other", run.entities)]


RULE = MarkingRule("overhang", "center lines run too far past the outline, or unevenly", 1.0, 3.0,
                   "center lines", decide, rank=3, limit=MOST,
                   limit_text="mm on paper that a center line may run past the outline")
