"""Edges that are no wider than thin lines.

Two widths, wide for edges and half of it for center lines and dimensions (ISO 128-2, about 2:1, and
ASME Y14.2; both from memory).
"""

from __future__ import annotations

from collections.abc import Iterable
from statistics import median

from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_SHEET
from sketcher.marking.title_entries import has_sheet
from sketcher.quantity.format import length

LEAST_RATIO = 1.4
"""Between widths of the series that are neighbours (0.25, 0.35, 0.5: a step is 1.4; ISO 128-2, from
memory) a difference is just seen."""


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return one mistake where most edges are not wider than the thin lines."""
    hand_in = comparison.hand_in
    if not has_sheet(comparison) and not hand_in.dimensions:
        return NO_SHEET
    wide = _widths(comparison, (curve.entity for curve in hand_in.of_role("outline")))
    thin = _widths(comparison, (*(curve.entity for role in ("center", "dimension")
                                  for curve in hand_in.of_role(role)),
                                *(each.number for each in hand_in.dimensions)))
    if not wide or not thin:
        return Undecided("does not say how wide its lines are")
    edges, others = median(wide), median(thin)
    if edges >= LEAST_RATIO * others * (1.0 - 0.02):
        return ()
    first = hand_in.of_role("outline")[0]
    at = getattr(first.curve, "start", getattr(first.curve, "center", (0.0, 0.0)))
    return (Mistake(comparison.laid_point(at), f"{length(edges, 'mm', 2)} mm",
                    f"{length(2.0 * others, 'mm', 2)} mm",
                    f"edges are {length(edges, 'mm', 2)} mm wide, "
                    f"thin lines {length(others, 'mm', 2)} mm"),)


def _widths(comparison: Comparison, numbers: Iterable[int]) -> list[float]:
    entities = comparison.hand_in.entities
    return [width for number in dict.fromkeys(numbers)
            if number in entities and (width := entities[number].width) is not None and width > 0.0]


RULE = MarkingRule("line-widths", "two widths of line", 2.0, 2.0, "sheet", decide, rank=3)
