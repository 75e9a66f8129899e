"""Lettering that is too small on paper, or of several heights.

Heights are 2.5, 3.5, 5 mm ... (ISO 3098-1), dimensions at least 3 mm by ASME Y14.2; both from
memory. One drawing has one height for its dimensions (common practice, no source).
"""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_DIMENSIONS
from sketcher.marking.paper_millimetres import on_paper
from sketcher.marking.stated_dimensions import StatedDimension, stated_dimensions
from sketcher.quantity.format import length

LEAST = 2.5
"""Millimetres on paper (ISO 3098-1, from memory)."""
ROUNDING = 0.02
"""Share by which 0.1 in may be less than 2.5 mm, and two heights are one."""


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return one mistake for lettering that is too small, one where heights differ."""
    stated = stated_dimensions(comparison)
    if stated is None:
        return NO_DIMENSIONS
    least = comparison.limits.get("lettering", LEAST)
    heights = [(on_paper(comparison, each.dimension.text_height), each) for each in stated.each
               if each.dimension.text_height]
    if not heights:
        return Undecided("does not say how tall its lettering is")
    found = []
    small = [(height, each) for height, each in heights if height < least * (1.0 - ROUNDING)]
    if small:
        height = min(height for height, _ in small)
        found.append(_mistake([each for _, each in small], f"{length(height, 'mm', 2)} mm",
                              f"{length(least, 'mm', 2)} mm", "lettering is too small to be read"))
    usual = sorted(height for height, _ in heights)[len(heights) // 2]
    other = [(height, each) for height, each in heights
             if abs(height - usual) > ROUNDING * usual and (height, each) not in small]
    if other:
        height = other[0][0]
        found.append(_mistake([each for _, each in other], f"{length(height, 'mm', 2)} mm",
                              f"{length(usual, 'mm', 2)} mm",
                              "dimensions are lettered in several heights"))
    return tuple(sorted(found, key=lambda mistake: mistake.at))


def _mistake(those: list[StatedDimension], found: str, wanted: str, text: str) -> Mistake:
    first = min(those, key=lambda each: each.at)
    return Mistake(first.at, found, wanted, text,
                   tuple(each.dimension.number for each in those), len(those))


RULE = MarkingRule("lettering", "the height of lettering", 1.0, 2.0, "sheet", decide, rank=2,
                   limit=LEAST, limit_text="least height on paper, mm")
