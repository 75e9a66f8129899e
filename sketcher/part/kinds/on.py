"""On: a point lies on a curve."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.construction_words import Condition, Words, on_curve, passing, reaching
from sketcher.part.crossing_choice import crossing
from sketcher.part.curve_questions import center_of
from sketcher.part.equations import AHEAD, BESIDE, ON_LINE, RADIAL
from sketcher.part.kind_base import Kind
from sketcher.part.kind_sign import Sign
from sketcher.part.loci import Course, Locus, Opened
from sketcher.part.operand_forms import EquationRow, line_ends, operand_type, round_center
from sketcher.part.value import Part


class On(Kind):
    """A point lies on the unbounded line, or on the full circle, of a curve.

    Where the point also ends another curve the side tells which of two crossings it is: `ahead` or
    `behind` the center along the line, `left` or `right` of the line of centers.
    """

    name = "on"
    title = "Point on curve"
    hint = "The point lies on the curve or on its continuation."
    phrases = ("{0} on {1}",)
    forms = (("point", "line"), ("point", "round"))
    sign = Sign((((-0.95, -0.35), (0.95, -0.35)),), ((0.0, -0.35, 0.34),), ((0.0, -0.35, 0.12),))
    incident = True

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[EquationRow]:
        """Return the distance from the line, or from the center less the radius."""
        point, curve = of
        if operand_type(part, curve) == "line":
            return [EquationRow(ON_LINE, (*line_ends(part, curve), point))]
        return [EquationRow(RADIAL, (point, round_center(part, curve)), (curve,))]

    def sided(self, part: Part, of: Sequence[str]) -> tuple[str, ...]:
        """Words that a side can have; they stay valid while curves round the point change."""
        line = operand_type(part, of[1]) == "line"
        return AHEAD.sides if line else (*AHEAD.sides, *BESIDE.sides)

    def choices(self, part: Part, of: Sequence[str]) -> tuple[str, ...]:
        """Return the two crossings, where there are two."""
        row = crossing(part, of[0], of[1])
        return () if row is None else row.equation.sides

    def wishes(self, part: Part, of: Sequence[str]) -> list[EquationRow]:
        """Return the row that tells two crossings apart."""
        row = crossing(part, of[0], of[1])
        return [] if row is None else [row]

    def shows_itself(self, part: Part, of: Sequence[str]) -> bool:
        """A lost corner, a place on an axis, and the end of an edge on another show it.

        That a center lies in line with an edge nobody sees.
        """
        point, curve = of
        named = [c for c in part.curves.values() if c.role == "outline" and point in c.points]
        is_center = bool(named) and all(center_of(c) == point for c in named)
        return part.curves[curve].role != "outline" or not is_center

    def locus(self, words: Words, condition: Condition, point: str) -> Locus | None:
        """Return the curve, or the circle about the point where the curve's center lies."""
        return on_curve(words, condition, words.of(condition)[1], point)

    def course(self, words: Words, condition: Condition, line: str) -> Course | None:
        """Return the point that the line goes through."""
        return passing(condition)

    def opening(self, words: Words, condition: Condition, name: str) -> Opened | None:
        """Return the radius by the point."""
        return reaching(condition)


KIND = On()
