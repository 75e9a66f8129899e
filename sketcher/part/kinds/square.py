"""Two lines stand square to each other."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.equations import SQUARE
from sketcher.part.forms import Kind, Row, line_ends
from sketcher.part.value import Part


class Square(Kind):
    """Two lines stand square to each other."""

    name = "square"
    hint = "Two lines stand square to each other."
    forms = (("line", "line"),)

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[Row]:
        """Return one directed angle; the side keeps the sense of the lines."""
        return [Row(SQUARE, tuple(p for name in of for p in line_ends(part, name)))]


KIND = Square()
