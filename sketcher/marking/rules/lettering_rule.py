"""Lettering that is too small on paper, or of several heights.

Heights are 2.5, 3.5, 5 mm ... (ISO 3098-1), dimensions at least 3 mm by ASME Y14.2; both from
memory. One drawing has one height for its dimensions (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass

from sketcher.geometry.curves import XY
from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_HEIGHTS, NO_SHEET
from sketcher.marking.paper_millimetres import on_paper
from sketcher.marking.title_entries import has_sheet
from sketcher.quantity.format import length

LEAST = 2.5
"""Millimetres on paper (ISO 3098-1, from memory)."""
ROUNDING = 0.02
"""Share by which 0.1 in may be less than 2.5 mm, and two heights are one."""


@dataclass(frozen=True, slots=True)
class _Lettered:
    """Where lettering stands, its entity, its height in mm on paper."""

    at: XY
    number: int
    height: float


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return one mistake for lettering that is too small, one where dimensions differ in height."""
    hand_in = comparison.hand_in
    if not hand_in.dimensions and not has_sheet(comparison):
        return NO_SHEET
    least = comparison.limits.get("lettering", LEAST)
    dimensions = [_Lettered(comparison.laid_point(each.text_at), each.number,
                            on_paper(comparison, each.text_height))
                  for each in hand_in.dimensions if each.text_height]
    texts = [_Lettered(comparison.laid_point(each.at), each.number,
                       on_paper(comparison, each.height))
             for each in hand_in.words if each.kind == "text" and each.height]
    if not dimensions and not texts:
        return NO_HEIGHTS
    found = []
    small = [each for each in (*dimensions, *texts) if each.height < least * (1.0 - ROUNDING)]
    if small:
        found.append(_mistake(small, min(each.height for each in small), least,
                              "lettering is too small to be read"))
    rest = [each for each in dimensions if each not in small]
    if rest:
        usual = sorted(each.height for each in rest)[len(rest) // 2]
        other = [each for each in rest if abs(each.height - usual) > ROUNDING * usual]
        if other:
            found.append(_mistake(other, other[0].height, usual,
                                  "dimensions are lettered in several heights"))
    return tuple(sorted(found, key=lambda mistake: mistake.at))


def _mistake(those: list[_Lettered], found: float, wanted: float, text: str) -> Mistake:
    first = min(those, key=lambda each: each.at)
    return Mistake(first.at, f"{length(found, 'mm', 2)} mm", f"{length(wanted, 'mm', 2)} mm", text,
                   tuple(each.number for each in those), len(those))


RULE = MarkingRule("lettering", "the height of lettering", 1.0, 2.0, "sheet", decide, rank=2,
                   limit=LEAST, limit_text="least height on paper, mm")
