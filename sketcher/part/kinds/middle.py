"""Middle: a point halfway along a line or between two points."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.equations import MIDDLE
from sketcher.part.operand_forms import Kind, Row, line_ends
from sketcher.part.value import Part


class Middle(Kind):
    """The first point lies halfway between the ends of the line, or between the other two."""

    name = "middle"
    hint = "The point lies halfway along the line, or halfway between two points."
    forms = (("point", "line"), ("point", "point", "point"))
    has_sides = False

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[Row]:
        """Return both coordinates."""
        ends = tuple(of[1:]) if len(of) == 3 else line_ends(part, of[1])
        return [Row(MIDDLE, (of[0], *ends))]


KIND = Middle()
