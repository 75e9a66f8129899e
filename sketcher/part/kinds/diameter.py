"""Diameter of an arc or circle."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.equations import DIAMETER
from sketcher.part.operand_forms import Kind, Row
from sketcher.part.value import Part


class Diameter(Kind):
    """Diameter of an arc or circle."""

    name = "diameter"
    quantity = "length"
    hint = "Diameter of an arc or circle."
    forms = (("round",),)
    has_sides = False

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[Row]:
        """Return one multiple of the radius."""
        return [Row(DIAMETER, (), tuple(of))]


KIND = Diameter()
