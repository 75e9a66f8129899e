"""Edges of a part file that run into each other smoothly without being bound so.

A joint that is tangent by numbers alone is one as long as no number changes.
"""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.handed_words import HandedWords
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_PART_FILE
from sketcher.marking.unbound_tangencies import unbound_tangencies


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the joints that are tangent and not bound, images of one as one."""
    part = comparison.hand_in.part
    if part is None:
        return NO_PART_FILE
    found = []
    words = HandedWords(comparison, part)
    for those in unbound_tangencies(part, comparison.within_angle):
        one, other = map(words.curve, those[0].between)
        found.append(Mistake(
            comparison.laid_point(those[0].at), "", "tangent",
            f"{one} and {other} touch smoothly, but are not bound tangent", (), len(those)))
    return tuple(sorted(found, key=lambda mistake: mistake.at))


RULE = MarkingRule("tangency-unbound", "tangent edges that are not bound", 2.0, 6.0, "part file",
                   decide, rank=2)
