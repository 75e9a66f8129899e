"""Fixed: a point stays where it is."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.operand_forms import Kind, Row, Slot
from sketcher.part.value import Part


class Fixed(Kind):
    """The point stays where it is."""

    name = "fixed"
    hint = "The point stays where it is."
    forms = (("point",),)
    has_sides = False
    substitutes = True

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[Row]:
        """Return nothing: the place is the point's own."""
        return []

    def held(self, part: Part, of: Sequence[str]) -> list[Slot]:
        """Return both coordinates."""
        return [(of[0], "x"), (of[0], "y")]


KIND = Fixed()
