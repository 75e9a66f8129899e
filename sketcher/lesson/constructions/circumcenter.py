"""The center of the circle through three points, or inside three lines."""

from __future__ import annotations

from sketcher.geometry.curves import XY
from sketcher.lesson.board_lines import line_with_line
from sketcher.lesson.constructions.bisect import halved, midpoint, square_bisector
from sketcher.lesson.constructions.parallel_through import parallel_through
from sketcher.lesson.constructions.square_at import square_through
from sketcher.lesson.slate import Slate


def circumcenter(slate: Slate, points: tuple[str, str, str], at: XY, name: str = "") -> str:
    """Return the point as far from each of three points (Elements IV.5)."""
    one, middle, other = points
    found = slate.cross(square_bisector(slate, one, middle), square_bisector(slate, middle, other),
                        at, name)
    slate.say(f"Both square bisectors cross at {found}, as far from {one} as from {middle} and "
              f"{other}.")
    return found


def incenter(slate: Slate, lines: tuple[str, str, str], at: XY, name: str = "") -> str:
    """Return the point as far from each of three lines (Elements IV.4), in the angles meant.

    Parameters
    ----------
    slate : Slate
    lines : three str
    at : (float, float)
        Where the center lies; of the four such points the one that is meant.
    name : str
    """
    halves = [equally_far(slate, *pair, at)[0] for pair in (lines[:2], lines[1:])]
    found = slate.cross(halves[0], halves[1], at, name)
    slate.say(f"The halving lines cross at {found}, as far from each of the three lines.")
    return found


def equally_far(slate: Slate, one: str, other: str, at: XY) -> tuple[str, str]:
    """Return the line as far from one line as from another, and their corner.

    Of the two lines that halve the angles it is the one through the angle where `at` lies. Parallel
    lines have no corner: its name is empty then.
    """
    places = line_with_line(slate.lines[one], slate.lines[other])
    if not places:
        start = slate.on[one][0]
        upright = square_through(slate, one, start)
        over = slate.cross(upright, other, slate.lines[other].foot(slate.points[start]))
        slate.say(f"{upright} cuts {other} at {over}.")
        return parallel_through(slate, one, midpoint(slate, start, over)), ""
    corner = slate.cross(one, other, places[0])
    slate.say(f"{one} and {other} cross at {corner}.")
    ways = slate.lines[one].foot(at), slate.lines[other].foot(at)
    return halved(slate, (one, other), corner, ways), corner
