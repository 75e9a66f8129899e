"""Middle: a point halfway along a line or between two points."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.construction_words import Condition, Words
from sketcher.part.equations import MIDDLE
from sketcher.part.kind_base import Kind
from sketcher.part.kind_sign import Sign
from sketcher.part.loci import Found, Halfway, Opposite
from sketcher.part.operand_forms import EquationRow, line_ends
from sketcher.part.value import Part


class Middle(Kind):
    """The first point lies halfway between the ends of the line, or between the other two."""

    name = "middle"
    title = "Midpoint"
    hint = "The point lies halfway along the line, or halfway between two points."
    phrases = ("{0} midpoint of {1}", "{0} midway {1} to {2}")
    forms = (("point", "line"), ("point", "point", "point"))
    sign = Sign(
        (((-0.9, -0.3), (0.9, -0.3)), ((-0.9, -0.6), (-0.9, 0.0)), ((0.9, -0.6), (0.9, 0.0)),
         ((-0.3, 0.7), (0.0, 0.0), (0.3, 0.7))),
    )
    has_sides = False

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[EquationRow]:
        """Return both coordinates."""
        ends = tuple(of[1:]) if len(of) == 3 else line_ends(part, of[1])
        return [EquationRow(MIDDLE, (of[0], *ends))]

    def instead(self, part: Part, of: Sequence[str]) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Return the distance from either end."""
        ends = of[1:] if len(of) == 3 else line_ends(part, of[1])
        return tuple(("distance", (end, of[0])) for end in ends)

    def found(self, words: Words, condition: Condition, point: str) -> Found | None:
        """Return where the middle lies, or where an end lies by the middle and the other end."""
        middle = words.of(condition)[0]
        one, other = (p for p in condition.points if p != point)
        if point == middle:
            return Halfway(one, other)
        return Opposite(middle, other if one == middle else one)


KIND = Middle()
