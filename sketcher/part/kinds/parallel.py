"""Two lines run the same way."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.construction_words import Condition, Words
from sketcher.part.equations import PARALLEL
from sketcher.part.kind_base import Kind
from sketcher.part.kind_sign import Sign
from sketcher.part.loci import Course, ParallelTo
from sketcher.part.operand_forms import EquationRow, drawn_straight, line_ends
from sketcher.part.value import Part


class Parallel(Kind):
    """Two lines run the same way."""

    name = "parallel"
    hint = "Two lines run the same way."
    phrases = ("{0} parallel to {1}",)
    forms = (("line", "line"),)
    sign = Sign((((-0.8, -0.6), (0.3, 0.8)), ((-0.2, -0.8), (0.9, 0.6))))

    said_in_words = True

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[EquationRow]:
        """Return one directed angle; the side keeps the sense of the lines."""
        return [EquationRow(PARALLEL, tuple(p for name in of for p in line_ends(part, name)))]

    def shows_itself(self, part: Part, of: Sequence[str]) -> bool:
        """Level and plumb lines show it; which other direction is meant nobody sees."""
        return any(drawn_straight(part, name) for name in of)

    def instead(self, part: Part, of: Sequence[str]) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Return the angle of either line."""
        return tuple(("angle", (name,)) for name in of)

    def course(self, words: Words, condition: Condition, line: str) -> Course | None:
        """Return the direction by the other line."""
        return ParallelTo(words.others(condition, line)[0])


KIND = Parallel()
