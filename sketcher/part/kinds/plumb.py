"""Plumb: a line or two points at one x."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sketcher.part.construction_words import Condition, Words
from sketcher.part.equations import SAME_X
from sketcher.part.kind_base import Kind
from sketcher.part.kind_sign import Sign
from sketcher.part.loci import Beside, Course, Locus, PlumbOrLevel
from sketcher.part.operand_forms import EquationRow, Slot, line_ends, local
from sketcher.part.value import Part


class Plumb(Kind):
    """Two points share their x; the side is the sense of a line from its first end."""

    name = "plumb"
    hint = "Vertical: the line runs plumb, or the two points lie on one plumb line."
    phrases = ("{0} plumb", "{0} plumb with {1}")
    forms = (("line",), ("point", "point"))
    sign = Sign(
        (((0.0, 0.95), (0.0, -0.1)),
         ((-0.35, -0.1), (0.35, -0.1), (0.0, -0.95), (-0.35, -0.1))),
    )
    aligns = True
    straight_locus = True
    substitutes = True

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[EquationRow]:
        """Return the coordinate difference."""
        return [EquationRow(SAME_X, tuple(of) if len(of) == 2 else line_ends(part, of[0]))]

    def unions(self, part: Part, of: Sequence[str]) -> list[tuple[Slot, Slot]]:
        """Return the two coordinates as one unknown."""
        one, other = of if len(of) == 2 else line_ends(part, of[0])
        return [((one, "x"), (other, "x"))]

    def wishes(self, part: Part, of: Sequence[str]) -> list[EquationRow]:
        """Return the sense of a line; two loose points have none."""
        return self.rows(part, of, None) if len(of) == 1 else []

    def sided(self, part: Part, of: Sequence[str]) -> tuple[str, ...]:
        """Give a sense to lines."""
        return SAME_X.sides if len(of) == 1 else ()

    def settle(self, part: Part, of: Sequence[str], value: float | None) -> str | None:
        """Return the sense of a line."""
        if len(of) != 1:
            return None
        code = SAME_X.settle(local(part, self.rows(part, of, None)[0]), np.zeros(1))
        return SAME_X.sides[int(code[0])]

    def shows_itself(self, part: Part, of: Sequence[str]) -> bool:
        """It is drawn plumb."""
        return True

    def locus(self, words: Words, condition: Condition, point: str) -> Locus | None:
        """Return the plumb line through the other point."""
        return Beside(words.other(condition, point), 0)

    def course(self, words: Words, condition: Condition, line: str) -> Course | None:
        """Return the direction."""
        return PlumbOrLevel(0)


KIND = Plumb()
