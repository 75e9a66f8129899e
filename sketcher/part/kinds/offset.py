"""Offset: distance square to a line, or radial distance of concentric rounds."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, dist, sin

from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.part.construction_words import Condition, Words
from sketcher.part.dimension_form import Linear, Side, side_of
from sketcher.part.equations import POINT_LINE, STEP
from sketcher.part.kind_base import Kind
from sketcher.part.kind_sign import Sign
from sketcher.part.loci import (
    Along,
    Clear,
    Course,
    Found,
    Locus,
    OnCurve,
    Opened,
    ParallelTo,
    Passing,
    SameAs,
)
from sketcher.part.operand_forms import (
    EquationRow,
    Slot,
    line_ends,
    operand_type,
    round_center,
)
from sketcher.part.part_size import part_size
from sketcher.part.value import Part
from sketcher.part.whole import curve_value

NEAR = 1e-6  # of the part's size: centers that are one to the eye


class Offset(Kind):
    """Distance from a line to a point or to a parallel line; or between concentric rounds."""

    name = "offset"
    quantity = "length"
    hint = ("Distance square to a line, to a point or to a second line, which is then parallel; "
            "or the radial distance of two circles or arcs, which are then concentric.")
    phrases = ("offset {0} to {1}",)
    forms = (("line", "point"), ("line", "line"), ("round", "round"))
    sign = Sign((((-0.9, -0.7), (0.9, -0.7)), ((-0.9, 0.5), (0.9, 0.5)), ((0.0, -0.7), (0.0, 0.5))))
    straight_locus = True

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[EquationRow]:
        """Return the distance of the point or of both ends, or the step of the radii."""
        first, second = of
        kind = operand_type(part, second)
        if kind == "point":
            return [EquationRow(POINT_LINE, (*line_ends(part, first), second))]
        if kind == "line":
            base = line_ends(part, first)
            return [EquationRow(POINT_LINE, (*base, end)) for end in line_ends(part, second)]
        return [EquationRow(STEP, (), (first, second))]

    def unions(self, part: Part, of: Sequence[str]) -> list[tuple[Slot, Slot]]:
        """Return the centers of rounds as one point."""
        if operand_type(part, of[0]) == "line":
            return []
        one, other = (round_center(part, name) for name in of)
        return [((one, axis), (other, axis)) for axis in "xy"]

    def dimension(self, part: Part, of: Sequence[str]) -> Linear | None:
        """Return the length square to the line, or across both rounds."""
        curves = [curve_value(part, part.curves[n]) for n in of if n in part.curves]
        line = curves[0]
        if isinstance(line, Line):
            x, y = line.direction
            return Linear(side_of(part, of[0]), side_of(part, of[1]), (-y, x))
        return _across([c for c in curves if not isinstance(c, Line)])

    def preference(self, part: Part, of: Sequence[str]) -> float:
        """Of two rounds it means that they are concentric: last where they are not."""
        if operand_type(part, of[0]) == "line":
            return 4.0
        one, other = (part.points[round_center(part, name)] for name in of)
        return 4.0 if dist(one, other) <= NEAR * part_size(part) else 8.0

    def locus(self, words: Words, condition: Condition, point: str) -> Locus | None:
        """Return the parallel on which a point lies."""
        base = words.of(condition)[0]
        if not words.is_line(base):
            return None
        amount = words.amount(condition.owner)
        return Along(base, amount, words.part.points[point]) if amount.size else OnCurve(base)

    def found(self, words: Words, condition: Condition, point: str) -> Found | None:
        """Return the other center of two rounds."""
        if len(condition.points) != 2:
            return None
        return SameAs(words.other(condition, point))

    def course(self, words: Words, condition: Condition, line: str) -> Course | None:
        """Return the parallel, or the distance from a point."""
        of, amount = words.of(condition), words.amount(condition.owner)
        if of[1] in words.part.points:
            return Clear(of[1], amount) if amount.size else Passing(of[1])
        return ParallelTo(words.others(condition, line)[0], amount, words.middle(line))

    def opening(self, words: Words, condition: Condition, name: str) -> Opened | None:
        """Return the radius by that of the other round."""
        other = words.others(condition, name)[0]
        sign = 1 if words.size(name) > words.size(other) else -1
        step = words.amount(condition.owner)
        terms = ((1, words.radius(other)), (sign, step))
        if sign < 0 and step.size > words.size(other):
            terms = terms[::-1]
        return words.worked_out(words.size(name), terms,
                                f"{'outside' if sign > 0 else 'inside'} {other}")


def _across(rounds: list[Arc | Circle]) -> Linear:
    """Return the step from the smaller to the larger round, wherever both of them are."""
    arcs = sorted((c for c in rounds if isinstance(c, Arc)), key=lambda arc: arc.length)
    around = arcs[0] if arcs else rounds[0]
    turn = around.start_angle + 0.5 * around.sweep if isinstance(around, Arc) else 0.0
    way, (cx, cy) = (cos(turn), sin(turn)), around.center
    inner, outer = (Side(((cx + r * way[0], cy + r * way[1]),))
                    for r in sorted(c.radius for c in rounds))
    return Linear(inner, outer, way, around=around)


KIND = Offset()
