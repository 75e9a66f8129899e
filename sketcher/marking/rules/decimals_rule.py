"""Numbers with more or fewer decimals than the paper writes.

Millimetres have no zeros at the end (ASME Y14.5M-1994, 1.6.1). In inches the decimals tell the
tolerance (the same, 2.3.2), so they are those of the key; a fraction there is not judged. What
rounding hides is always wanted.
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
from sketcher.marking.wanted_words import saying_of, wanted_words
from sketcher.quantity.format import length

OTHER_UNIT = 1e-6


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return one mistake for all numbers with too many decimals, one for those with too few."""
    stated = stated_dimensions(comparison)
    if stated is None:
        return NO_DIMENSIONS
    if abs(stated.factor - 1.0) > OTHER_UNIT:
        return Undecided("its numbers are in another unit or scale than the paper's")
    many = [each for each in stated.each if _surplus(stated, each) > 0]
    few = [each for each in stated.each if _surplus(stated, each) < 0]
    found = []
    for those, word in ((many, "more"), (few, "fewer")):
        if those:
            first = min(those, key=lambda each: each.at)
            text, wanted = first.dimension.text, wanted_words(comparison, first)
            found.append(Mistake(first.at, text, wanted,
                                 f"{text} has {word} decimals than the paper's {wanted}",
                                 tuple(each.dimension.number for each in those), len(those)))
    return tuple(sorted(found, key=lambda mistake: mistake.at))


def _surplus(stated: StatedDimensions, each: StatedDimension) -> int:
    """Return by how many decimals a number has too many; below 0 too few."""
    words = each.wording
    if each.is_angle or words is None or words.decimals is None or each.drawn is None or (
            not stated.says(each, each.drawn)):
        return 0
    comparison = stated.comparison
    size = each.drawn
    if words.said.sign == "Ø" and each.dimension.kind == "radius":
        size *= 2.0
    value = each.wording.value if each.wording is not None else None
    hides = value is not None and abs(value - size) > comparison.within
    if comparison.key.part.unit == "mm":
        wanted = len(length(size, "mm", 3).partition(".")[2])
    else:
        said = saying_of(comparison, size)
        if said is None or said.decimals is None:
            return 0
        wanted = said.decimals
    if words.decimals < wanted:
        return words.decimals - wanted if hides else 0
    return words.decimals - wanted


RULE = MarkingRule("decimals", "the decimals of numbers", 1.0, 2.0, "dimensions", decide, rank=10)
