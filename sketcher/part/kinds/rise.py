"""Rise: plumb distance of two points."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.equations import RISE
from sketcher.part.operand_forms import Kind, Row, line_ends
from sketcher.part.value import Part


class Rise(Kind):
    """Plumb distance from the first point to the second, or from end to end of a line."""

    name = "rise"
    quantity = "length"
    hint = "Plumb distance of two points, or of the two ends of a line."
    forms = (("point", "point"), ("line",))

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[Row]:
        """Return one coordinate difference."""
        return [Row(RISE, tuple(of) if len(of) == 2 else line_ends(part, of[0]))]


KIND = Rise()
