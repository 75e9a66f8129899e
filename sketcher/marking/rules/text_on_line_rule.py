"""A dimension's text that a line runs through.

No line crosses the number of a dimension (ISO 129-1 and ASME Y14.5, both from memory).
"""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.dimension_strokes import dimension_strokes
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_DIMENSIONS, NO_HEIGHTS
from sketcher.marking.stated_dimensions import stated_dimensions


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the texts through which an edge, a center line or another dimension runs."""
    stated = stated_dimensions(comparison)
    if stated is None:
        return NO_DIMENSIONS
    strokes = dimension_strokes(comparison, stated)
    if not any(each.tall for each in strokes):
        return NO_HEIGHTS
    found = []
    for each in strokes:
        crossed = ""
        if any(each.is_crossed(edge.curve) for edge in comparison.outline):
            crossed = "an edge"
        elif any(each.is_crossed(line.curve) for line in comparison.center_lines):
            crossed = "a center line"
        elif any(each.is_crossed(line) for other in strokes if other is not each
                 for line in other.lines):
            crossed = "the line of another dimension"
        if crossed:
            text = each.stated.dimension.text
            found.append(Mistake(each.stated.at, crossed, "", f"{crossed} runs through {text}",
                                 (each.stated.dimension.number,)))
    return tuple(sorted(found, key=lambda mistake: mistake.at))


RULE = MarkingRule("text-on-line", "a number with a line through it", 1.0, 4.0, "dimensions",
                   decide, rank=6)
