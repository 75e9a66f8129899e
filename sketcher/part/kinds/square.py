"""Square: two lines, or two points over a line, at a right angle."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.equations import FOOT, SQUARE
from sketcher.part.operand_forms import Kind, Row, line_ends
from sketcher.part.value import Part


class Square(Kind):
    """Two lines stand square to each other, or two points lie square over a line."""

    name = "square"
    hint = "Two lines stand square to each other, or two points lie square over a line."
    forms = (("line", "line"), ("line", "point", "point"))

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[Row]:
        """Return one directed angle, whose side keeps the sense of the lines, or the foot."""
        if len(of) == 3:
            return [Row(FOOT, (*line_ends(part, of[0]), of[1], of[2]))]
        return [Row(SQUARE, tuple(p for name in of for p in line_ends(part, name)))]


KIND = Square()
