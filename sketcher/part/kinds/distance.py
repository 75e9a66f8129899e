"""Distance: true length between two points or along a line."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.geometry.curves import Line
from sketcher.part.construction_words import Condition, Words
from sketcher.part.dimension_form import Linear, ends_of_length
from sketcher.part.equations import DISTANCE
from sketcher.part.kind_base import Kind
from sketcher.part.kind_sign import Sign
from sketcher.part.loci import Locus, RoundAbout
from sketcher.part.operand_forms import EquationRow, line_ends
from sketcher.part.value import Part


class Distance(Kind):
    """True distance of two points, or the length of a line."""

    name = "distance"
    quantity = "length"
    hint = "True distance of two points, or the length of a line."
    phrases = ("length of {0}", "distance {0} to {1}")
    forms = (("point", "point"), ("line",))
    sign = Sign(
        (((-0.8, -0.6), (0.8, 0.6)), ((-0.95, -0.3), (-0.65, -0.9)),
         ((0.65, 0.9), (0.95, 0.3))),
    )
    above_zero = True
    extent = True
    has_sides = False

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[EquationRow]:
        """Return one distance."""
        return [EquationRow(DISTANCE, tuple(of) if len(of) == 2 else line_ends(part, of[0]))]

    def instead_of_zero(self, of: Sequence[str]) -> str:
        """Two points without a distance are one point."""
        return "join the two points instead" if len(of) == 2 else super().instead_of_zero(of)

    def dimension(self, part: Part, of: Sequence[str]) -> Linear | None:
        """Return the length along itself."""
        first, second = ends_of_length(part, of)
        unit = Line(first.places[0], second.places[0]).direction
        return None if unit == (0.0, 0.0) else Linear(first, second, unit)

    def preference(self, part: Part, of: Sequence[str]) -> float:
        """True lengths come first."""
        return 0.0

    def locus(self, words: Words, condition: Condition, point: str) -> Locus | None:
        """Return the circle about the other point."""
        return RoundAbout(words.other(condition, point), words.amount(condition.owner))


KIND = Distance()
