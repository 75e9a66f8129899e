"""A length set off along a line."""

from __future__ import annotations

from sketcher.geometry.curves import XY
from sketcher.lesson.slate import Slate
from sketcher.lesson.strokes import Compass


def set_off(
    slate: Slate, line: str, start: str, opening: Compass, towards: XY, name: str = ""
) -> str:
    """Return the point of a line that lies so far from one of its points (Elements I.3).

    Parameters
    ----------
    slate : Slate
    line : str
    start : str
        A point on it.
    opening : Compass
    towards : (float, float)
        Which of the two ways.
    name : str
        Of the point; a letter where it has none of its own.
    """
    known = slate.lines[line]
    begin = slate.points[start]
    ahead = (towards[0] - begin[0]) * known.along[0] + (towards[1] - begin[1]) * known.along[1]
    there = known.beyond(begin, opening.amount if ahead > 0.0 else -opening.amount)
    found = slate.cross(line, slate.swing(start, opening, there), there, name)
    slate.say(f"Set the compass to {opening.said}; about {start} cut {line}: {found}.")
    return found
