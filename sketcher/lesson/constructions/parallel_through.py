"""A line parallel to another, through a point or at a distance."""

from __future__ import annotations

from math import sqrt

from sketcher.geometry.curves import XY
from sketcher.lesson.board_lines import BoardLine
from sketcher.lesson.constructions.set_off import set_off
from sketcher.lesson.constructions.square_at import square_through
from sketcher.lesson.slate import Slate
from sketcher.lesson.strokes import Compass

FLAT = 0.06
"""Of the size: a rhombus so low is too flat for its arcs to cross well; two squares are drawn."""
FEW = 12
"""Points of a line that are looked at: one with thousands has a good one among its first."""


def parallel_through(slate: Slate, line: str, point: str, name: str = "") -> str:
    """Return the line through a point parallel to another, by a rhombus (cf. Elements I.31)."""
    base, at = slate.lines[line], slate.points[point]
    known = "" if name else slate.line_at(BoardLine(at, base.along))
    if known:
        return known
    if slate.lies_on(line, point):
        one, other = slate.two_on(line)
        made = slate.rule(one, other, name)
        slate.say(f"Draw {made} along {line}.")
        return made
    away = abs(base.offset(at))
    if away < FLAT * slate.size:
        square = square_through(slate, line, point)
        return square_through(slate, square, point, name)
    opening = slate.any_opening(1.3 * away)
    foot = base.foot(at)
    step = sqrt((opening.amount - away) * (opening.amount + away))
    here = base.beyond(foot, -step)
    there = base.beyond(here, opening.amount)
    over = base.beyond(at, opening.amount)
    one = slate.cross(line, slate.swing(point, opening, here, over), here)
    other = slate.cross(line, slate.swing(one, slate.span(one, point), there), there)
    corner = slate.cross(slate.swing(point, slate.span(point, one), here, over),
                         slate.swing(other, slate.span(other, one), over), over, by=one)
    made = slate.rule(point, corner, name)
    slate.say(f"Parallel to {line} through {point}: with one opening, about {point} cut {line} at "
              f"{one}, about {one} cut it at {other}, and about {point} and {other} strike arcs "
              f"that cross at {corner}. Draw {made} through {point} and {corner}.")
    return made


def parallel_at(
    slate: Slate, line: str, opening: Compass, towards: XY, name: str = "", start: str = ""
) -> str:
    """Return the parallel to a line at a distance: square up, set off, and two arcs.

    Parameters
    ----------
    slate : Slate
    line : str
    opening : Compass
        The distance; 0 gives the line itself.
    towards : (float, float)
        A place on the side where it lies.
    name : str
    start : str
        Point on the line where the distance is set off; some point of it without one.
    """
    base = slate.lines[line]
    side = 1.0 if base.offset(towards) > 0.0 else -1.0
    moved = (base.at[0] + side * opening.amount * base.square[0],
             base.at[1] + side * opening.amount * base.square[1])
    known = "" if name else slate.line_at(BoardLine(moved, base.along))
    if known:
        return known
    start = start or _squared_up(slate, line) or slate.on[line][0]
    at = slate.points[start]
    up = (at[0] + side * base.square[0], at[1] + side * base.square[1])
    corner = set_off(slate, square_through(slate, line, start), start, opening, up)
    end = max(slate.on[line][:FEW], key=lambda p: _apart(slate, start, p))
    if _apart(slate, start, end) < 0.02 * slate.size:
        return parallel_through(slate, line, corner, name)
    other = slate.points[end]
    there = (other[0] + side * opening.amount * base.square[0],
             other[1] + side * opening.amount * base.square[1])
    far = slate.cross(slate.swing(end, opening, there),
                      slate.swing(corner, slate.span(start, end), there), there)
    made = slate.rule(corner, far, name)
    slate.say(f"Parallel to {line} at {opening.text}: about {end} with {opening.said} and about "
              f"{corner} with the opening {start}-{end} strike arcs that cross at {far}. Draw "
              f"{made} through {corner} and {far}.")
    return made


def _squared_up(slate: Slate, line: str) -> str:
    """Point of a line at which one stands square to it already."""
    base = slate.lines[line]
    for point in slate.on[line][:FEW]:
        if slate.line_at(BoardLine(slate.points[point], base.square)):
            return point
    return ""


def _apart(slate: Slate, one: str, other: str) -> float:
    (ax, ay), (bx, by) = slate.points[one], slate.points[other]
    return abs(bx - ax) + abs(by - ay)
