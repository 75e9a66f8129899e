"""Equal: two lines of one length, two rounds of one radius."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.construction_words import Condition, Words
from sketcher.part.equations import EQUAL_LENGTH, SAME_RADIUS
from sketcher.part.kind_base import Kind
from sketcher.part.kind_sign import Sign
from sketcher.part.loci import Locus, Opened, RoundAbout
from sketcher.part.operand_forms import EquationRow, Incidence, Slot, line_ends, operand_type
from sketcher.part.value import Part


class Equal(Kind):
    """Two lines have one length, or two rounds one radius."""

    name = "equal"
    hint = "Two lines have the same length, or two circles or arcs the same radius."
    phrases = ("{0} equal to {1}",)
    forms = (("line", "line"), ("round", "round"))
    sign = Sign((((-0.7, 0.3), (0.7, 0.3)), ((-0.7, -0.3), (0.7, -0.3))))
    has_sides = False

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[EquationRow]:
        """Return the difference of lengths or radii."""
        if operand_type(part, of[0]) == "line":
            ends = tuple(p for name in of for p in line_ends(part, name))
            return [EquationRow(EQUAL_LENGTH, ends)]
        return [EquationRow(SAME_RADIUS, (), tuple(of))]

    def solved(
        self, part: Part, of: Sequence[str], side: str | None, meeting: Incidence
    ) -> list[EquationRow]:
        """Return the equation for lines; radii are substituted."""
        rows = self.rows(part, of, side)
        return rows if rows[0].equation is EQUAL_LENGTH else []

    def unions(self, part: Part, of: Sequence[str]) -> list[tuple[Slot, Slot]]:
        """Return the radii as one unknown."""
        if operand_type(part, of[0]) == "line":
            return []
        return [((of[0], "r"), (of[1], "r"))]

    def shows_itself(self, part: Part, of: Sequence[str]) -> bool:
        """Equal rounds share a callout with its count; equal lines show nothing."""
        return operand_type(part, of[0]) != "line"

    def instead(self, part: Part, of: Sequence[str]) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Return the length of either line."""
        return tuple(("distance", (name,)) for name in of)

    def locus(self, words: Words, condition: Condition, point: str) -> Locus | None:
        """Return the circle about a line's other end, as large as the other line is long."""
        of = words.of(condition)
        mine = [n for n in of if point in words.part.curves[n].points]
        if len(mine) != 1:
            return None
        (other,) = words.others(condition, mine[0])
        center = next(p for p in words.part.curves[mine[0]].points if p != point)
        one, far = words.part.curves[other].points
        return RoundAbout(center, words.span(one, far, reason=f"as long as {other}"))

    def opening(self, words: Words, condition: Condition, name: str) -> Opened | None:
        """Return the radius of the other round."""
        return words.radius(words.others(condition, name)[0])


KIND = Equal()
