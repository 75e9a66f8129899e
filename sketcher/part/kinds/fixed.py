"""Fixed: a point stays where it is."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.kind_base import Kind
from sketcher.part.kind_sign import Sign
from sketcher.part.operand_forms import EquationRow, Slot
from sketcher.part.value import Part


class Fixed(Kind):
    """The point stays where it is."""

    name = "fixed"
    hint = "The point stays where it is."
    phrases = ("{0} fixed",)
    forms = (("point",),)
    sign = Sign(
        (((-0.8, -0.3), (0.8, -0.3)), ((0.0, 0.8), (0.0, -0.3)),
         ((-0.5, -0.3), (-0.8, -0.85)), ((0.1, -0.3), (-0.2, -0.85)),
         ((0.7, -0.3), (0.4, -0.85))),
    )
    has_sides = False
    substitutes = True

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[EquationRow]:
        """Return nothing: the place is the point's own."""
        return []

    def held(self, part: Part, of: Sequence[str]) -> list[Slot]:
        """Return both coordinates."""
        return [(of[0], "x"), (of[0], "y")]

    def shows_itself(self, part: Part, of: Sequence[str]) -> bool:
        """Nothing to be shown."""
        return True


KIND = Fixed()
