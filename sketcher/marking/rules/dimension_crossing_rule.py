"""A dimension line that another dimension crosses, with its line or with an extension line.

The shorter dimension stands nearer to the part, so that nothing crosses a dimension line;
extension lines may cross each other (ISO 129-1 and ASME Y14.5, both from memory).
"""

from __future__ import annotations

from sketcher.geometry.curves import XY
from sketcher.marking.comparison import Comparison
from sketcher.marking.dimension_strokes import DimensionStrokes, crosses, dimension_strokes
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_DIMENSIONS
from sketcher.marking.paper_millimetres import paper_mm
from sketcher.marking.stated_dimensions import stated_dimensions

MARGIN = 0.5
"""Millimetres on paper by which lines must run on beyond the place where they meet."""


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the dimension lines that are crossed, each once."""
    stated = stated_dimensions(comparison)
    if stated is None:
        return NO_DIMENSIONS
    strokes = dimension_strokes(comparison, stated)
    margin = MARGIN * paper_mm(comparison)
    found = []
    both: set[frozenset[int]] = set()
    for n, each in enumerate(strokes):
        places: list[tuple[XY, int]] = []
        for k, other in enumerate(strokes):
            at = None if k == n or frozenset((k, n)) in both else _crossed(each, other, margin)
            if at is not None:
                both.add(frozenset((k, n)))
                places.append((at, k))
        if places:
            at, k = places[0]
            one, other_text = (strokes[i].stated.dimension for i in (n, k))
            found.append(Mistake(
                at, "", "", f"{other_text.text} crosses the dimension line of {one.text}",
                (one.number, *(strokes[k].stated.dimension.number for _, k in places)),
                len(places)))
    return tuple(sorted(found, key=lambda mistake: mistake.at))


def _crossed(one: DimensionStrokes, other: DimensionStrokes, margin: float) -> XY | None:
    """Return where another dimension crosses the line of one."""
    if one.line is None:
        return None
    for line in other.lines:
        at = crosses(one.line, line, margin)
        if at is not None:
            return at
    return None


RULE = MarkingRule("dimension-crossing", "a dimension line that another one crosses", 1.0, 4.0,
                   "dimensions", decide, rank=7)
