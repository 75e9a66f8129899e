"""Run: level distance of two points."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.equations import RUN
from sketcher.part.operand_forms import Kind, Row, line_ends
from sketcher.part.value import Part


class Run(Kind):
    """Level distance from the first point to the second, or from end to end of a line."""

    name = "run"
    quantity = "length"
    hint = "Level distance of two points, or of the two ends of a line."
    forms = (("point", "point"), ("line",))

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[Row]:
        """Return one coordinate difference."""
        return [Row(RUN, tuple(of) if len(of) == 2 else line_ends(part, of[0]))]


KIND = Run()
