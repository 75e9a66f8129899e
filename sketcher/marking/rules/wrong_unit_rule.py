"""A header that says another unit than the numbers are in."""

from __future__ import annotations

from sketcher.drafting.paper_view import MM_PER
from sketcher.geometry.bounds import bounds_of
from sketcher.marking.comparison import Comparison
from sketcher.marking.hand_in import HandIn
from sketcher.marking.marking_rule import MarkingRule, Mistake
from sketcher.marking.scale_told import ScaleTold, scale_told, unit_name

FIRST_WITH_UNITS = "AC1015"
"""Release 2000, the first whose header has $INSUNITS (DXF reference, from memory)."""
INCHES = frozenset({3, 4, 5})
"""Of $LUNITS: feet and inches, and fractions (DXF reference)."""


def decide(comparison: Comparison) -> tuple[Mistake, ...]:
    """Return that the numbers are in another unit than the file says: one mistake.

    A drawing in the other unit than the key's is right when its header says so.
    """
    told = scale_told(comparison)
    numbers = unit_name(told.unit)
    if told.stated is not None:
        if told.stated == told.unit:
            return ()
        says, text = unit_name(told.stated), "the file says {}, but its numbers are {}"
    else:
        ours = MM_PER[comparison.key.part.unit]
        if told.unit == ours or _hinted(comparison.hand_in, told) or (
                _cannot_tell(comparison.hand_in)):
            return ()
        says, text = unit_name(ours), "the file does not say its unit, so that it counts as {}, " \
                                      "but its numbers are {}"
    x, y, *_ = bounds_of(each.curve for each in comparison.outline)
    return (Mistake((x, y), numbers, says, text.format(says, numbers)),)


def _cannot_tell(hand_in: HandIn) -> bool:
    """Whether the file is of a version whose header has no place for the unit."""
    version = hand_in.content.version if hand_in.content is not None else ""
    return bool(version) and version < FIRST_WITH_UNITS


def _hinted(hand_in: HandIn, told: ScaleTold) -> bool:
    """Whether a header without a unit tells it all the same."""
    hints = hand_in.content.hints if hand_in.content is not None else {}
    if hints.get("$LUNITS") in INCHES:
        return told.unit == MM_PER["in"]
    return {0: MM_PER["in"], 1: MM_PER["mm"]}.get(hints.get("$MEASUREMENT", -1)) == told.unit


RULE = MarkingRule("wrong-unit", "header and numbers of different units", 5.0, 5.0, "outline",
                   decide, rank=17)
