"""Two lines run the same way."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.equations import PARALLEL
from sketcher.part.operand_forms import Kind, Row, line_ends
from sketcher.part.value import Part


class Parallel(Kind):
    """Two lines run the same way."""

    name = "parallel"
    hint = "Two lines run the same way."
    forms = (("line", "line"),)

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[Row]:
        """Return one directed angle; the side keeps the sense of the lines."""
        return [Row(PARALLEL, tuple(p for name in of for p in line_ends(part, name)))]


KIND = Parallel()
