"""A line square to another, through a point on it or off it."""

from __future__ import annotations

from math import sqrt

from sketcher.lesson.board_lines import BoardLine
from sketcher.lesson.slate import Slate


def square_through(slate: Slate, line: str, point: str, name: str = "") -> str:
    """Return the line square to another through a point (Elements I.11, I.12)."""
    base = slate.lines[line]
    known = "" if name else slate.line_at(BoardLine(slate.points[point], base.square))
    if known:
        return known
    if slate.lies_on(line, point):
        return _erected(slate, line, point, name)
    return _dropped(slate, line, point, name)


def _erected(slate: Slate, line: str, point: str, name: str) -> str:
    base, at = slate.lines[line], slate.points[point]
    opening = slate.any_opening()
    ends = [base.beyond(at, sense * opening.amount) for sense in (-1.0, 1.0)]
    ring = slate.swing(point, opening, *ends)
    one, other = (slate.cross(line, ring, end) for end in ends)
    over = (at[0] + sqrt(3.0) * opening.amount * base.square[0],
            at[1] + sqrt(3.0) * opening.amount * base.square[1])
    both = slate.span(one, other)
    top = slate.cross(slate.swing(one, both, over), slate.swing(other, both, over), over)
    made = slate.rule(point, top, name)
    slate.say(f"Square to {line} at {point}: about {point}, with any opening, cut {line} at {one} "
              f"and {other}; about these, with the opening {one}-{other}, strike two arcs that "
              f"cross at {top}. Draw {made} through {point} and {top}.")
    return made


def _dropped(slate: Slate, line: str, point: str, name: str) -> str:
    base, at = slate.lines[line], slate.points[point]
    away = abs(base.offset(at))
    opening = slate.any_opening(1.3 * away)
    foot = base.foot(at)
    half = sqrt((opening.amount - away) * (opening.amount + away))
    ends = [base.beyond(foot, sense * half) for sense in (-1.0, 1.0)]
    ring = slate.swing(point, opening, *ends)
    one, other = (slate.cross(line, ring, end) for end in ends)
    # away from the point, and with an opening that makes the arcs cross well however near it lies
    side = -1.0 if base.offset(at) > 0.0 else 1.0
    reach = side * sqrt(3.0) * half
    over = (foot[0] + reach * base.square[0], foot[1] + reach * base.square[1])
    both = slate.span(one, other)
    far = slate.cross(slate.swing(one, both, over), slate.swing(other, both, over), over)
    made = slate.rule(point, far, name)
    slate.say(f"Square to {line} from {point}: about {point}, with any opening that reaches, cut "
              f"{line} at {one} and {other}; about these, with the opening {one}-{other}, strike "
              f"two arcs that cross at {far}. Draw {made} through {point} and {far}.")
    return made
