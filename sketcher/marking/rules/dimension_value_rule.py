"""A dimension whose number is not the size, where the drawing itself is right.

What is drawn wrong and dimensioned truly is the drawing's mistake alone; a number typed over what
is measured is `typed-over`.
"""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_DIMENSIONS
from sketcher.marking.stated_dimensions import (
    StatedDimension,
    StatedDimensions,
    stated_dimensions,
)
from sketcher.marking.wanted_words import wanted_words


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the dimensions that say another size than the drawing was to have."""
    stated = stated_dimensions(comparison)
    if stated is None:
        return NO_DIMENSIONS
    found = []
    for each in stated.each:
        if is_off(stated, each) and not stated.is_typed_over(each):
            wanted = wanted_words(comparison, each)
            found.append(Mistake(each.at, each.dimension.text, wanted,
                                 f'the dimension says "{each.dimension.text}", but the size is '
                                 f"{wanted}",
                                 (each.dimension.number,)))
    return tuple(sorted(found, key=lambda mistake: mistake.at))


def is_off(stated: StatedDimensions, each: StatedDimension) -> bool:
    """Tell whether a dimension says another size than the drawing was to have."""
    if each.number is None or each.drawn is None or stated.says(each, each.drawn):
        return False
    if each.wording is not None and each.wording.said.count > 1 and stated.says_steps(each):
        return False
    return not (stated.is_true(each) and stated.says(each, each.laid))


RULE = MarkingRule("dimension-value", "a dimension that says another size", 3.0, 9.0, "dimensions",
                   decide, rank=2)
