"""The center of the circle through three points, or inside three lines."""

from __future__ import annotations

from sketcher.geometry.curves import XY
from sketcher.lesson.board_lines import line_with_line
from sketcher.lesson.constructions.bisect import halved, square_bisector
from sketcher.lesson.slate import NotDrawn, Slate


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
    halves: list[str] = []
    for pair in ((lines[0], lines[1]), (lines[1], lines[2]), (lines[0], lines[2])):
        places = line_with_line(slate.lines[pair[0]], slate.lines[pair[1]])
        if len(halves) == 2 or not places:
            continue
        corner = slate.cross(*pair, places[0])
        slate.say(f"{pair[0]} and {pair[1]} cross at {corner}.")
        ways = slate.lines[pair[0]].foot(at), slate.lines[pair[1]].foot(at)
        halves.append(halved(slate, pair, corner, ways))
    if len(halves) < 2:
        raise NotDrawn(f"{' and '.join(lines)} do not make two angles")
    found = slate.cross(halves[0], halves[1], at, name)
    slate.say(f"The halving lines cross at {found}, as far from each of the three lines.")
    return found
