"""Angle: between two lines, or of one line against level."""

from __future__ import annotations

from collections.abc import Sequence
from math import degrees, pi

import numpy as np

from sketcher.geometry.curves import Line
from sketcher.part.construction_words import Condition, Words
from sketcher.part.dimension_form import Angular
from sketcher.part.equations import ANGLE, INCLINATION
from sketcher.part.kind_base import Kind
from sketcher.part.kind_sign import Sign
from sketcher.part.loci import AtAngle, Course
from sketcher.part.operand_forms import EquationRow, line_ends, local
from sketcher.part.value import Part
from sketcher.part.whole import curve_value

PARALLEL = 0.5  # degrees within which two lines are asked for their distance


class Angle(Kind):
    """Angle between two lines, or of one line against level.

    The side names one of the four sectors: the second line is turned counter-clockwise (`ccw`) or
    clockwise (`cw`) from the first by the value, as it runs or `reversed`.
    """

    name = "angle"
    quantity = "angle"
    hint = "Angle between two lines, or of one line against level."
    phrases = ("angle of {0}", "angle {0} to {1}")
    forms = (("line", "line"), ("line",))
    sign = Sign(
        (((0.8, 0.7), (-0.8, -0.7), (0.9, -0.7)), ((0.3, -0.7), (0.25, -0.3), (0.05, 0.02))),
    )
    feature = "angle"

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[EquationRow]:
        """Return one directed angle."""
        ends = tuple(p for name in of for p in line_ends(part, name))
        return [EquationRow(ANGLE if len(of) == 2 else INCLINATION, ends)]

    def first_value(
        self, part: Part, of: Sequence[str], side: str | None
    ) -> tuple[float, str | None]:
        """Angle of the rays from a shared end, else the sharp angle, and its sector."""
        row = self.rows(part, of, None)[0]
        zero = np.zeros(1)
        turn = float(row.equation.residual(local(part, row), zero, np.zeros(1, int))[0, 0])
        sectors = {"ccw": turn, "cw": -turn, "ccw reversed": turn + pi, "cw reversed": pi - turn}
        amounts = {word: amount % (2.0 * pi) for word, amount in sectors.items()}
        if side is None:
            word = _outgoing(part, of, turn)
            side = word or min(amounts, key=lambda sector: round(amounts[sector], 9))
        return amounts[side], side

    def dimension(self, part: Part, of: Sequence[str]) -> Angular | None:
        """Return the lines between which it opens."""
        lines = [curve_value(part, part.curves[name]) for name in of]
        straight = tuple(line for line in lines if isinstance(line, Line) and line.length > 0.0)
        if len(straight) < len(of):
            return None
        return Angular(straight, tuple(part.curves[name].role == "outline" for name in of))

    def preference(self, part: Part, of: Sequence[str]) -> float:
        """Return a later place for lines that run parallel: their distance is asked for."""
        turn = degrees(self.first_value(part, of, None)[0]) if len(of) == 2 else 90.0
        return 7.0 if min(turn, abs(180.0 - turn)) < PARALLEL else 3.0

    def course(self, words: Words, condition: Condition, line: str) -> Course | None:
        """Return the angle to the other line, or to level."""
        base = "".join(words.others(condition, line))
        return AtAngle(base, *words.turned(line, base, condition.owner))


def _outgoing(part: Part, of: Sequence[str], turn: float) -> str | None:
    """Sector between the rays that leave a shared end, or None."""
    if len(of) != 2:
        return None
    one, other = (line_ends(part, name) for name in of)
    shared = set(one) & set(other)
    if len(shared) != 1:
        return None
    point = shared.pop()
    alike = (one[0] == point) == (other[0] == point)
    if alike:
        return "ccw" if turn >= 0.0 else "cw"
    return "ccw reversed" if degrees(turn) < 0.0 else "cw reversed"


KIND = Angle()
