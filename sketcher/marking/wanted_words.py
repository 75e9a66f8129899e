"""How the paper would write what a dimension of a hand-in should say."""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.paper_sayings import PaperSaying, paper_sayings
from sketcher.marking.stated_dimensions import StatedDimension
from sketcher.part.printed import angle_number, in_fractions, length_number
from sketcher.quantity.format import length


def number_words(comparison: Comparison, value: float) -> str:
    """Return a length as the key's paper writes lengths, without a sign."""
    part = comparison.key.part
    said = saying_of(comparison, value)
    if said is not None and part.unit == "in" and said.decimals is not None:
        return length(value, "in", said.decimals)
    typed = "1/2" if part.unit == "in" and in_fractions(part) else ""
    return length_number(value, part.unit, typed).text


def wanted_words(comparison: Comparison, each: StatedDimension) -> str:
    """Return what a dimension should say, sign and count as they are."""
    size = each.drawn or 0.0
    if each.is_angle:
        return angle_number(comparison.key.part, size).text
    words = each.wording
    sign = words.said.sign if words is not None else ""
    if each.is_round:
        sign = sign or {"radius": "R", "diameter": "Ø"}[each.dimension.kind]
        if (sign, each.dimension.kind) == ("Ø", "radius"):
            size *= 2.0
        elif (sign, each.dimension.kind) == ("R", "diameter"):
            size *= 0.5
    return sign + number_words(comparison, size)


def saying_of(comparison: Comparison, value: float) -> PaperSaying | None:
    """Return the dimension of the key's paper that says a number; None where none does."""
    for said in paper_sayings(comparison.key).values():
        if said.value is not None and abs(said.value - value) <= comparison.within:
            return said
    return None
