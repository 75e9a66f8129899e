"""A dimension whose text was typed over and says something else than what it measures."""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_DIMENSIONS
from sketcher.marking.stated_dimensions import stated_dimensions
from sketcher.quantity.format import angle, length


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the dimensions whose typed number is not what they measure."""
    stated = stated_dimensions(comparison)
    if stated is None:
        return NO_DIMENSIONS
    unit = comparison.hand_in.unit or comparison.key.part.unit
    found = []
    for each in stated.each:
        if stated.is_typed_over(each):
            measured = each.dimension.measured or 0.0
            says = angle(measured, 3) if each.is_angle else length(measured, unit, 3, zeros=False)
            found.append(Mistake(
                each.at, each.dimension.text, says,
                f"the text {each.dimension.text} is typed over a dimension that measures {says}",
                (each.dimension.number,)))
    return tuple(sorted(found, key=lambda mistake: mistake.at))


RULE = MarkingRule("typed-over", "a text typed over what is measured", 5.0, 5.0, "dimensions",
                   decide, rank=3)
