"""A line at an angle to another: by the compass where that is exact, else by the protractor."""

from __future__ import annotations

import re

from sketcher.lesson.board_lines import BoardLine, turned
from sketcher.lesson.constructions.bisect import halving
from sketcher.lesson.constructions.parallel_through import parallel_through
from sketcher.lesson.constructions.square_at import square_through
from sketcher.lesson.slate import Slate

EXACT = 1e-12  # degrees


def angle_at(
    slate: Slate, base: str, point: str, degrees: float, text: str, name: str = ""
) -> str:
    """Return the line through a point that stands at an angle to another line.

    Multiples of 15 degrees come from the third of a half turn and the right angle by halving
    (Elements I.1, I.9, I.11), what the two set squares give; any other angle is measured.

    Parameters
    ----------
    slate : Slate
    base : str
    point : str
        On the line or off it; off it a parallel through the point is drawn first.
    degrees : float
        Counter-clockwise from `base` as it runs to the right (upward where it is plumb).
    text : str
        The angle as the paper has it.
    name : str
    """
    degrees %= 180.0
    along = rightward(slate.lines[base])
    known = "" if name else slate.line_at(BoardLine(slate.points[point], turned(along, degrees)))
    if known:
        return known
    if degrees == 0.0:
        return parallel_through(slate, base, point, name)
    if abs(degrees - 90.0) <= EXACT:
        return square_through(slate, base, point, name)
    if not slate.lies_on(base, point):
        base = parallel_through(slate, base, point)
    twelfth = degrees / 15.0
    if abs(twelfth - round(twelfth)) * 15.0 <= EXACT:
        return _by_compass(slate, base, point, round(twelfth), text, name)
    made = slate.protract(point, base, degrees, text, turned(along, degrees), name)
    way = _way(degrees, text)
    slate.say(f"Lay the protractor on {base} at {point} and mark {text}, turned {way} from it: "
              f"draw {made} through {point} (an angle by protractor is measured, not constructed).")
    return made


def _way(degrees: float, text: str) -> str:
    """How a line turns from its base by the angle that is said, not by what is left of 180."""
    found = re.match(r"[\d.]+", text)
    said = float(found[0]) % 180.0 if found else degrees
    near = abs(said - degrees) <= abs(said - 180.0 + degrees)
    return "counter-clockwise" if near else "clockwise"


def rightward(line: BoardLine) -> tuple[float, float]:
    """Direction of a line to the right, upward where it is plumb."""
    x, y = line.along
    return (x, y) if x > 1e-9 or (abs(x) <= 1e-9 and y > 0.0) else (-x, -y)


def _by_compass(
    slate: Slate, base: str, point: str, twelfths: int, text: str, name: str
) -> str:
    """Line at a multiple of 15 degrees, through a point of the base."""
    along, at, opening = rightward(slate.lines[base]), slate.points[point], slate.any_opening()

    def there(degrees: float) -> tuple[float, float]:
        x, y = turned(along, degrees)
        return (at[0] + opening.amount * x, at[1] + opening.amount * y)

    marks: dict[int, str] = {}
    ring = slate.swing(point, opening, there(0.0), there(60.0), there(120.0), there(180.0))

    slate.say(f"About {point}, with any opening, swing a circle.")

    def mark(k: int) -> str:
        """Point of the circle at so many times 15 degrees."""
        if k in marks:
            return marks[k]
        if k in (0, 12):
            marks[k] = slate.cross(base, ring, there(15.0 * k))
            slate.say(f"{base} cuts the circle about {point} at {marks[k]}.")
        elif k in (4, 8):
            start = mark(0 if k == 4 else 12)
            arc = slate.swing(start, slate.span(point, start), there(15.0 * k))
            marks[k] = slate.cross(ring, arc, there(15.0 * k))
            slate.say(f"With the same opening, {point}-{start}, about {start} cut the circle about "
                      f"{point} at {marks[k]}: {point}-{marks[k]} stands at 60° to {base}.")
        elif k == 6:
            upright = square_through(slate, base, point)
            marks[k] = slate.cross(upright, ring, there(90.0))
            slate.say(f"{upright} cuts the circle about {point} at {marks[k]}.")
        else:
            low, high = {2: (0, 4), 10: (8, 12), 3: (0, 6), 9: (6, 12), 1: (0, 2), 5: (4, 6),
                         7: (6, 8), 11: (10, 12)}[k]
            line = halving(slate, point, mark(low), mark(high), name if k == twelfths else "")
            if k == twelfths:
                marks[k] = line
            else:
                marks[k] = slate.cross(line, ring, there(15.0 * k))
                slate.say(f"{line} cuts the circle about {point} at {marks[k]}.")
        return marks[k]

    made = mark(twelfths)
    if twelfths in (4, 8):
        end, made = made, slate.rule(point, made, name)
        slate.say(f"Draw {made} through {point} and {end}: {text}, what the set square of 30° "
                  f"and 60° gives.")
    return made
