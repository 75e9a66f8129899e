"""Reflected: two points, or two curves of a kind, are images of each other about a line."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sketcher.part.construction_words import Condition, Words
from sketcher.part.equations import MIRROR, SAME_RADIUS
from sketcher.part.kind_base import Kind
from sketcher.part.kind_sign import Sign
from sketcher.part.loci import Found, ImageOf, Locus, Opened, SquareOver
from sketcher.part.operand_forms import (
    EquationRow,
    Incidence,
    Slot,
    axes_last,
    line_ends,
    local,
    round_center,
)
from sketcher.part.value import ArcCurve, LineCurve, Part

PAIRINGS = ("same", "crossed")


class Reflected(Kind):
    """The second is the image of the first about the last operand, a line.

    The side of two lines says which ends belong together: `same` (start to start) or `crossed`.
    """

    name = "reflected"
    hint = "Two points, or two curves of a kind, lie as reflections about a line."
    phrases = ("{0} reflected to {1} about {2}",)
    forms = (("point", "point", "line"), ("line", "line", "line"), ("arc", "arc", "line"),
             ("circle", "circle", "line"))
    sign = Sign(
        (((0.0, 0.95), (0.0, 0.3)), ((0.0, 0.1), (0.0, -0.1)), ((0.0, -0.3), (0.0, -0.95)),
         ((-0.85, -0.6), (-0.3, 0.0), (-0.85, 0.6), (-0.85, -0.6)),
         ((0.85, -0.6), (0.3, 0.0), (0.85, 0.6), (0.85, -0.6))),
    )

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[EquationRow]:
        """Return the reflection of each pair of points."""
        first, second, axis = of
        about = line_ends(part, axis)
        radii = [] if first in part.points or part.curves[first].kind == "line" else [
            EquationRow(SAME_RADIUS, (), (first, second))]
        pairs = _pairs(part, first, second, side)
        return [EquationRow(MIRROR, (*pair, *about)) for pair in pairs] + radii

    def solved(
        self, part: Part, of: Sequence[str], side: str | None, meeting: Incidence
    ) -> list[EquationRow]:
        """Return the pairs of points; radii are substituted."""
        return [row for row in self.rows(part, of, side) if row.equation is MIRROR]

    def unions(self, part: Part, of: Sequence[str]) -> list[tuple[Slot, Slot]]:
        """Return the radii of rounds as one unknown."""
        if of[0] in part.points or part.curves[of[0]].kind == "line":
            return []
        return [((of[0], "r"), (of[1], "r"))]

    def sided(self, part: Part, of: Sequence[str]) -> tuple[str, ...]:
        """Give two lines a pairing."""
        lines = of[0] in part.curves and part.curves[of[0]].kind == "line"
        return PAIRINGS if lines else ()

    def settle(self, part: Part, of: Sequence[str], value: float | None) -> str | None:
        """Return the pairing that is nearer to a reflection."""
        if not self.sided(part, of):
            return None

        def off(side: str) -> float:
            rows = self.rows(part, of, side)
            zero = np.zeros(1)
            found = [row.equation.residual(local(part, row), zero, zero) for row in rows]
            return sum(float((amount * amount).sum()) for amount in found)

        return min(PAIRINGS, key=off)

    def arrange(self, part: Part, ids: Sequence[str]) -> tuple[str, ...] | None:
        """Put an axis last."""
        return super().arrange(part, axes_last(part, ids))

    def shows_itself(self, part: Part, of: Sequence[str]) -> bool:
        """The axis is drawn."""
        return True

    def found(self, words: Words, condition: Condition, point: str) -> Found | None:
        """Return the reflection of the other point."""
        one, other = condition.points[:2]
        return ImageOf(one if point == other else other, words.of(condition)[-1])

    def locus(self, words: Words, condition: Condition, point: str) -> Locus | None:
        """Return the line square to the axis through the other point."""
        one, other = condition.points[:2]
        return SquareOver(words.of(condition)[-1], one if point == other else other)

    def opening(self, words: Words, condition: Condition, name: str) -> Opened | None:
        """Return the radius of the other round."""
        return words.radius(words.others(condition, name)[0])


def _pairs(part: Part, first: str, second: str, side: str | None) -> list[tuple[str, str]]:
    if first in part.points:
        return [(first, second)]
    one, other = part.curves[first], part.curves[second]
    if isinstance(one, LineCurve) and isinstance(other, LineCurve):
        ends = other.ends if side != "crossed" else other.ends[::-1]
        return list(zip(one.ends, ends, strict=True))
    pairs = [(round_center(part, first), round_center(part, second))]
    if isinstance(one, ArcCurve) and isinstance(other, ArcCurve):
        # A reflection turns ccw into cw: arcs of one turn correspond end to start.
        ends = other.ends if one.turn != other.turn else other.ends[::-1]
        pairs += list(zip(one.ends, ends, strict=True))
    return pairs


KIND = Reflected()
