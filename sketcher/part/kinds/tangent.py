"""Tangent: a line and a round, or two rounds, touch or join smoothly."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sketcher.part.construction_words import Condition, Words
from sketcher.part.equations import (
    COLLINEAR,
    FOOT,
    SIGNED_BY_LINE,
    SIGNED_BY_ROUND,
    TOUCH_LINE,
    TOUCH_ROUND,
)
from sketcher.part.kind_base import Kind
from sketcher.part.kind_sign import Sign
from sketcher.part.loci import (
    Along,
    Clear,
    Course,
    Locus,
    Opened,
    RoundAbout,
    SquareOver,
    SquareToRay,
    Through,
    Touching,
)
from sketcher.part.operand_forms import (
    EquationRow,
    Incidence,
    MeantJoint,
    line_ends,
    operand_type,
    radius_of,
    round_center,
)
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve, Part


class Tangent(Kind):
    """Two curves touch; where they share a point the touch is a joint at that point.

    The side of a line and a round is the side of the line on which the center lies. That of two
    rounds is `outside`, `inside` (the second within the first) or `around`.
    """

    name = "tangent"
    hint = "The curves touch; at a shared end they run smoothly into each other."
    phrases = ("{0} tangent to {1}",)
    forms = (("line", "round"), ("round", "round"))
    sign = Sign((((-0.95, -0.7), (0.95, -0.7)),), ((0.0, 0.0, 0.7),))
    joins = True

    def settle(self, part: Part, of: Sequence[str], value: float | None) -> str | None:
        """Return the side on which the curves run smoothly through a shared end.

        However rough the sketch is, the turns say what is meant there: never a fold. Without a
        shared end the geometry decides.
        """
        words = _smooth(part, of)
        if not words:
            return super().settle(part, of, value)
        if len(words) == 1:
            return words[0]
        return words[0 if radius_of(part, of[0]) >= radius_of(part, of[1]) else 1]

    def choices(self, part: Part, of: Sequence[str]) -> tuple[str, ...]:
        """Return the senses of a touch; at a shared end the turns and the radii imply it."""
        return () if _smooth(part, of) else self.sided(part, of)

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[EquationRow]:
        """Return the touch, which measures joints as well."""
        first, second = of
        if operand_type(part, first) == "line":
            ends = line_ends(part, first)
            return [EquationRow(TOUCH_LINE, (*ends, round_center(part, second)), (second,))]
        centers = (round_center(part, first), round_center(part, second))
        return [EquationRow(TOUCH_ROUND, centers, (first, second))]

    def solved(
        self, part: Part, of: Sequence[str], side: str | None, meeting: Incidence
    ) -> list[EquationRow]:
        """Return the direction form at a joint, else the touch."""
        joint = meeting.joints.get(tuple(of))
        if joint is None:
            return self.rows(part, of, side)
        return [EquationRow(joint.direction, joint.points)]

    def joint(self, part: Part, of: Sequence[str], meeting: Incidence) -> MeantJoint | None:
        """Return the first shared point, signed along the better known of the two normals.

        That is the one of the line, or else of the larger round.
        """
        first, second = of
        leading = part.curves[first]
        straight = isinstance(leading, LineCurve)
        if not straight and radius_of(part, first) < radius_of(part, second):
            first, second = second, first
        shared = meeting.shared(first, second)
        if shared is None:
            return None
        ends = leading.ends if isinstance(leading, LineCurve) else (round_center(part, first),)
        points = (*ends, shared, round_center(part, second))
        if straight:
            return MeantJoint((shared, second), points, FOOT, SIGNED_BY_LINE)
        return MeantJoint((shared, second), points, COLLINEAR, SIGNED_BY_ROUND)

    def shows_itself(self, part: Part, of: Sequence[str]) -> bool:
        """It is drawn tangent."""
        return True

    def locus(self, words: Words, condition: Condition, point: str) -> Locus | None:
        """Return where a center lies at its distance, or the line of a joint and a center."""
        if condition.role == "touch":
            return _center_locus(words, condition, point)
        one, other = words.of(condition)
        if words.is_line(one):
            center, joint = words.center(other), condition.points[2]
            return SquareOver(one, joint if point == center else center)
        ends = [p for p in condition.points if p != point]
        return Through(ends[0], ends[1])

    def course(self, words: Words, condition: Condition, line: str) -> Course | None:
        """Return on which side a line touches a circle, or its direction at the joint."""
        name = words.others(condition, line)[0]
        if condition.role != "touch":
            return SquareToRay(condition.points[2], words.center(name))
        return Clear(words.center(name), words.radius(name), name)

    def opening(self, words: Words, condition: Condition, name: str) -> Opened | None:
        """Return the radius by what the round touches."""
        if condition.role != "touch":
            return None
        return Touching(words.others(condition, name)[0])


def _smooth(part: Part, of: Sequence[str]) -> tuple[str, ...]:
    """Sides on which two curves run smoothly through their one shared end; empty without one."""
    first, second = (part.curves[name] for name in of)
    if isinstance(first, CircleCurve) or not isinstance(second, ArcCurve):
        return ()
    shared = set(first.ends) & set(second.ends)
    if len(shared) != 1:
        return ()
    joint = shared.pop()
    after = (second.turn == "ccw") == (second.ends[0] == joint)
    if isinstance(first, LineCurve):
        return ("left",) if after == (first.ends[1] == joint) else ("right",)
    before = (first.turn == "ccw") == (first.ends[1] == joint)
    return ("outside",) if before != after else ("inside", "around")


def _center_locus(words: Words, condition: Condition, point: str) -> Locus:
    """Circle or parallel on which the center of a round that touches lies."""
    one, other = words.of(condition)
    if words.is_line(one):
        radius = words.radius(other)
        return Along(one, replace(radius, reason=radius.reason or f"radius of {other}"),
                     words.part.points[point])
    mine, given = (one, other) if words.center(one) == point else (other, one)
    a, b = words.size(given), words.size(mine)
    apart = words.apart(one, other)
    if abs(apart - a - b) <= abs(apart - abs(a - b)):
        terms = ((1, words.radius(given)), (1, words.radius(mine)))
    else:
        larger, smaller = (given, mine) if a > b else (mine, given)
        terms = ((1, words.radius(larger)), (-1, words.radius(smaller)))
    amount = words.worked_out(apart, terms, f"radii of {given} and {mine}")
    return RoundAbout(words.center(given), amount)


KIND = Tangent()
