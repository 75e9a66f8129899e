"""Rise: plumb distance of two points."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.construction_words import Condition, Words, along_axis, line_beside
from sketcher.part.dimension_form import Linear, ends_of_length
from sketcher.part.equations import RISE
from sketcher.part.kind_base import Kind
from sketcher.part.kind_sign import Sign
from sketcher.part.loci import Course, Locus
from sketcher.part.operand_forms import EquationRow, line_ends
from sketcher.part.value import Part


class Rise(Kind):
    """Plumb distance from the first point to the second, or from end to end of a line."""

    name = "rise"
    quantity = "length"
    hint = "Plumb (vertical) distance of two points, or of the two ends of a line."
    phrases = ("rise of {0}", "rise {0} to {1}")
    forms = (("point", "point"), ("line",))
    sign = Sign((((0.2, -0.8), (0.2, 0.8)), ((-0.7, -0.8), (0.7, -0.8)), ((-0.3, 0.8), (0.7, 0.8))))
    extent = True
    straight_locus = True

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[EquationRow]:
        """Return one coordinate difference."""
        return [EquationRow(RISE, tuple(of) if len(of) == 2 else line_ends(part, of[0]))]

    def dimension(self, part: Part, of: Sequence[str]) -> Linear:
        """Return the length along plumb."""
        return Linear(*ends_of_length(part, of), (0.0, 1.0), coordinate=True)

    def preference(self, part: Part, of: Sequence[str]) -> float:
        """After what is measured along itself."""
        return 6.0

    def locus(self, words: Words, condition: Condition, point: str) -> Locus | None:
        """Return the level line beside the other point."""
        return line_beside(words, condition, point, 1)

    def course(self, words: Words, condition: Condition, line: str) -> Course | None:
        """Return the direction that a rise of nothing is."""
        return along_axis(words, condition, 1)


KIND = Rise()
