"""In line: two lines, or three points, lie on one straight line."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.equations import ON_LINE, PARALLEL
from sketcher.part.operand_forms import Kind, Row, line_ends
from sketcher.part.value import Part


class InLine(Kind):
    """Two lines continue each other, or three points lie on one line."""

    name = "in line"
    hint = "Two lines, or three points, lie on one straight line."
    forms = (("line", "line"), ("point", "point", "point"))

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[Row]:
        """Return the directions and, unless the lines share an end, one distance."""
        if len(of) == 3:
            return [Row(ON_LINE, tuple(of))]
        one, other = (line_ends(part, name) for name in of)
        rows = [Row(PARALLEL, (*one, *other))]
        if not set(one) & set(other):
            rows.append(Row(ON_LINE, (*one, other[0])))
        return rows


KIND = InLine()
