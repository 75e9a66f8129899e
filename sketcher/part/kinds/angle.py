"""Angle: between two lines, or of one line against level."""

from __future__ import annotations

from collections.abc import Sequence
from math import degrees, pi

import numpy as np

from sketcher.part.equations import ANGLE, INCLINATION
from sketcher.part.operand_forms import Kind, Row, line_ends, local
from sketcher.part.value import Part


class Angle(Kind):
    """Angle between two lines, or of one line against level.

    The side names one of the four sectors: the second line is turned counter-clockwise (`ccw`) or
    clockwise (`cw`) from the first by the value, as it runs or `reversed`.
    """

    name = "angle"
    quantity = "angle"
    hint = "Angle between two lines, or of one line against level."
    forms = (("line", "line"), ("line",))

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[Row]:
        """Return one directed angle."""
        ends = tuple(p for name in of for p in line_ends(part, name))
        return [Row(ANGLE if len(of) == 2 else INCLINATION, ends)]

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
