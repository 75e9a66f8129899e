"""Square: two lines, or two points over a line, at a right angle."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.construction_words import Condition, Words
from sketcher.part.equations import FOOT, SQUARE
from sketcher.part.kind_base import Kind
from sketcher.part.kind_sign import Sign
from sketcher.part.loci import Course, Locus, SquareOver, SquareTo, SquareToRay
from sketcher.part.operand_forms import EquationRow, line_ends
from sketcher.part.value import Part


class Square(Kind):
    """Two lines stand square to each other, or two points lie square over a line."""

    name = "square"
    title = "Square to"
    hint = ("Perpendicular: two lines stand square to each other, or two points lie square over a "
            "line.")
    phrases = ("{0} square to {1}", "{1} to {2} square to {0}")
    forms = (("line", "line"), ("line", "point", "point"))
    sign = Sign(
        (((-0.7, 0.85), (-0.7, -0.7), (0.85, -0.7)),
         ((-0.7, -0.15), (-0.15, -0.15), (-0.15, -0.7))),
    )
    aligns = True

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[EquationRow]:
        """Return one directed angle, whose side keeps the sense of the lines, or the foot."""
        if len(of) == 3:
            return [EquationRow(FOOT, (*line_ends(part, of[0]), of[1], of[2]))]
        return [EquationRow(SQUARE, tuple(p for name in of for p in line_ends(part, name)))]

    def shows_itself(self, part: Part, of: Sequence[str]) -> bool:
        """It is drawn square."""
        return True

    def locus(self, words: Words, condition: Condition, point: str) -> Locus | None:
        """Return the line square over the first operand, through the other point."""
        line, *points = words.of(condition)
        if len(points) != 2 or point not in points:
            return None
        return SquareOver(line, points[points[0] == point])

    def course(self, words: Words, condition: Condition, line: str) -> Course | None:
        """Return the direction by the other line, or by the two points square over it."""
        points = words.of(condition)[1:]
        if len(points) == 2:
            return SquareToRay(*points)
        return SquareTo(words.others(condition, line)[0])


KIND = Square()
