"""Diameter of an arc or circle."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.construction_words import Condition, Words
from sketcher.part.dimension_form import Radial, radial
from sketcher.part.equations import DIAMETER
from sketcher.part.kind_base import Kind
from sketcher.part.kind_sign import Sign
from sketcher.part.loci import Opened
from sketcher.part.operand_forms import EquationRow
from sketcher.part.value import Part


class Diameter(Kind):
    """Diameter of an arc or circle."""

    name = "diameter"
    quantity = "length"
    hint = "Diameter of an arc or circle."
    phrases = ("diameter of {0}",)
    forms = (("round",),)
    sign = Sign((((-0.9, -0.9), (0.9, 0.9)),), ((0.0, 0.0, 0.7),))
    above_zero = True
    prefix = "Ø"
    has_sides = False

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[EquationRow]:
        """Return one multiple of the radius."""
        return [EquationRow(DIAMETER, (), tuple(of))]

    def dimension(self, part: Part, of: Sequence[str]) -> Radial:
        """Return the round."""
        return radial(part, of, diameter=True)

    def preference(self, part: Part, of: Sequence[str]) -> float:
        """Drawings give holes by it."""
        return 1.0

    def opening(self, words: Words, condition: Condition, name: str) -> Opened | None:
        """Return the value."""
        return words.half(words.amount(condition.owner), "Ø")


KIND = Diameter()
