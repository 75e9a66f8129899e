"""Radius of an arc or circle."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.construction_words import Condition, Words
from sketcher.part.dimension_form import Radial, radial
from sketcher.part.equations import RADIUS
from sketcher.part.kind_base import Kind
from sketcher.part.kind_sign import Sign
from sketcher.part.loci import Opened
from sketcher.part.operand_forms import EquationRow
from sketcher.part.value import Part


class Radius(Kind):
    """Radius of an arc or circle."""

    name = "radius"
    quantity = "length"
    hint = "Radius of an arc or circle."
    phrases = ("radius of {0}",)
    forms = (("round",),)
    sign = Sign(
        (((-0.9, -0.7), (0.45, 0.45)), ((0.05, 0.4), (0.45, 0.45), (0.4, 0.05)),
         ((-0.3, 0.9), (0.35, 0.55), (0.75, 0.0), (0.85, -0.6))),
    )
    above_zero = True
    prefix = "R"
    feature = "radius"
    has_sides = False

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[EquationRow]:
        """Return one multiple of the radius."""
        return [EquationRow(RADIUS, (), tuple(of))]

    def dimension(self, part: Part, of: Sequence[str]) -> Radial:
        """Return the round."""
        return radial(part, of)

    def preference(self, part: Part, of: Sequence[str]) -> float:
        """After the diameter."""
        return 2.0

    def opening(self, words: Words, condition: Condition, name: str) -> Opened | None:
        """Return the value."""
        return words.amount(condition.owner)


KIND = Radius()
