"""Equal: two lines of one length, two rounds of one radius."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.equations import EQUAL_LENGTH, SAME_RADIUS
from sketcher.part.operand_forms import Kind, Meeting, Row, Slot, line_ends, operand_type
from sketcher.part.value import Part


class Equal(Kind):
    """Two lines have one length, or two rounds one radius."""

    name = "equal"
    hint = "Two lines have the same length, or two rounds the same radius."
    forms = (("line", "line"), ("round", "round"))
    has_sides = False

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[Row]:
        """Return the difference of lengths or radii."""
        if operand_type(part, of[0]) == "line":
            return [Row(EQUAL_LENGTH, tuple(p for name in of for p in line_ends(part, name)))]
        return [Row(SAME_RADIUS, (), tuple(of))]

    def solved(
        self, part: Part, of: Sequence[str], side: str | None, meeting: Meeting
    ) -> list[Row]:
        """Return the equation for lines; radii are substituted."""
        rows = self.rows(part, of, side)
        return rows if rows[0].equation is EQUAL_LENGTH else []

    def unions(self, part: Part, of: Sequence[str]) -> list[tuple[Slot, Slot]]:
        """Return the radii as one unknown."""
        if operand_type(part, of[0]) == "line":
            return []
        return [((of[0], "r"), (of[1], "r"))]


KIND = Equal()
