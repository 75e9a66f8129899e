"""Tangent: a line and a round, or two rounds, touch or join smoothly."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.equations import (
    COLLINEAR,
    FOOT,
    SIGNED_BY_LINE,
    SIGNED_BY_ROUND,
    TOUCH_LINE,
    TOUCH_ROUND,
)
from sketcher.part.operand_forms import (
    Kind,
    Meeting,
    Row,
    center_of,
    line_ends,
    operand_type,
    radius_of,
)
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve, Part


class Tangent(Kind):
    """Two curves touch; where they share a point the touch is a joint at that point.

    The side of a line and a round is the side of the line on which the center lies. That of two
    rounds is `outside`, `inside` (the second within the first) or `around`.
    """

    name = "tangent"
    hint = "The curves touch; at a shared end they run smoothly into each other."
    forms = (("line", "round"), ("round", "round"))
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

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[Row]:
        """Return the touch, which measures joints as well."""
        first, second = of
        if operand_type(part, first) == "line":
            ends = line_ends(part, first)
            return [Row(TOUCH_LINE, (*ends, center_of(part, second)), (second,))]
        centers = (center_of(part, first), center_of(part, second))
        return [Row(TOUCH_ROUND, centers, (first, second))]

    def solved(
        self, part: Part, of: Sequence[str], side: str | None, meeting: Meeting
    ) -> list[Row]:
        """Return the direction form at a joint, else the touch."""
        first, second = _larger_first(part, of)
        joint = meeting.joint(first, second)
        if joint is None:
            return self.rows(part, of, side)
        center = center_of(part, second)
        if operand_type(part, first) == "line":
            return [Row(FOOT, (*line_ends(part, first), joint, center))]
        return [Row(COLLINEAR, (center_of(part, first), joint, center))]

    def signed(
        self, part: Part, of: Sequence[str], meeting: Meeting
    ) -> tuple[tuple[str, str], Row] | None:
        """Return the joint's distance from the second center along the shared normal."""
        first, second = _larger_first(part, of)
        joint = meeting.joint(first, second)
        if joint is None:
            return None
        center = center_of(part, second)
        if operand_type(part, first) == "line":
            row = Row(SIGNED_BY_LINE, (*line_ends(part, first), joint, center), (second,))
        else:
            row = Row(SIGNED_BY_ROUND, (center_of(part, first), joint, center), (second,))
        return (joint, second), row


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


def _larger_first(part: Part, of: Sequence[str]) -> Sequence[str]:
    """Operands with the line or the larger round first: its normal is the better known one."""
    first, second = of
    if operand_type(part, first) != "line" and radius_of(part, first) < radius_of(part, second):
        return second, first
    return of


KIND = Tangent()
