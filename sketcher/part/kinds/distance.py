"""Distance: true length between two points or along a line."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.equations import DISTANCE
from sketcher.part.operand_forms import Kind, Row, line_ends
from sketcher.part.value import Part


class Distance(Kind):
    """True distance of two points, or the length of a line."""

    name = "distance"
    quantity = "length"
    hint = "True distance of two points, or the length of a line."
    forms = (("point", "point"), ("line",))
    has_sides = False

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[Row]:
        """Return one distance."""
        return [Row(DISTANCE, tuple(of) if len(of) == 2 else line_ends(part, of[0]))]


KIND = Distance()
