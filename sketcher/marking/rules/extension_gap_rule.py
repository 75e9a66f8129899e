"""Extension lines that touch the part, or begin too far from it.

A visible gap of about 1.5 mm (ASME Y14.2, from memory); ISO 129-1 has eight line widths, 1.4 to
2.8 mm (from memory). The limits leave room for both.
"""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_DIMENSIONS
from sketcher.marking.paper_millimetres import on_paper
from sketcher.marking.stated_dimensions import StatedDimension, stated_dimensions
from sketcher.quantity.format import length

LEAST, MOST = 0.5, 3.0
"""Millimetres on paper (common practice, no source)."""


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return one mistake for each gap that is too small or too wide, with all that have it."""
    stated = stated_dimensions(comparison)
    if stated is None:
        return NO_DIMENSIONS
    least = comparison.limits.get("extension-gap", LEAST)
    gaps: dict[float, list[StatedDimension]] = {}
    for each in stated.each:
        gap = each.dimension.extension_gap
        if gap is not None and each.dimension.kind in ("linear", "aligned"):
            gaps.setdefault(round(on_paper(comparison, gap), 2), []).append(each)
    if not gaps:
        return Undecided("does not say what gap its extension lines leave")
    found = []
    for gap, those in gaps.items():
        if least - 1e-6 <= gap <= MOST + 1e-6:
            continue
        first = min(those, key=lambda each: each.at)
        size = length(gap, "mm", 2)
        wrong = "touch the part" if gap <= 0.0 else f"leave a gap of {size} mm"
        found.append(Mistake(first.at, f"{size} mm", "1.5 mm", f"extension lines {wrong}",
                             tuple(each.dimension.number for each in those), len(those)))
    return tuple(sorted(found, key=lambda mistake: mistake.at))


RULE = MarkingRule("extension-gap", "the gap of extension lines", 1.0, 2.0, "dimensions", decide,
                   rank=8, limit=LEAST, limit_text="least gap on paper, mm")
