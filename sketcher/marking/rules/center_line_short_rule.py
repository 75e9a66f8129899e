"""A center line that ends inside the outline that it should pass."""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.run_ends import overhang_bounds, paper_length


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the center lines that end on or inside their outline, one mistake a line."""
    evidence = comparison.center_evidence
    if evidence.undecided is not None:
        return evidence.undecided
    unit = comparison.key.part.unit
    low, high = (paper_length(size, unit) for size in overhang_bounds(unit))
    mistakes = []
    for run, ends in evidence.ends:
        short = [end for end in ends if end.short is not None]
        if short:
            inside = max(end.short or 0.0 for end in short)
            where = (f"{paper_length(inside, unit)} inside" if float(
                paper_length(inside, unit)) else "on")
            mistakes.append(Mistake(
                evidence.back(short[0].at), where, f"{low} to {high} past it",
                f"the center line ends {where} the outline that it should pass", run.entities,
                len(short)))
    return tuple(sorted(mistakes, key=lambda each: each.at))


RULE = MarkingRule("center-line-short", "center lines that end inside the outline", 1.0, 3.0,
                   "center lines", decide, rank=7)
