"""The axis that a half asks for: the one that is drawn, else through its two open ends."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import atan2, degrees, dist

from sketcher.board.steps.drawing_step import Sketch
from sketcher.geometry.curves import Line
from sketcher.geometry.project import distance
from sketcher.part.curve_questions import ends_of
from sketcher.part.value import LineCurve, Part
from sketcher.solve.solve_report import Solution

MOST = 64
"""A sketch that is open at more places is no half of a plate yet."""

IN_LINE = 1e-6
"""Share of its length by which ends may lie off the axis and still be cut by it."""


@dataclass(frozen=True, slots=True)
class OfferedAxis:
    """An axis that can be taken as it is offered.

    Parameters
    ----------
    base, part : Part
        The part as it stands, and with the axis; the same where the axis is drawn already.
    axis : str
        Id of the axis in `part`.
    ends : tuple of str
        The two open ends that it joins; empty where it is drawn already.
    """

    base: Part
    part: Part
    axis: str
    ends: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """What is offered."""
        if not self.ends:
            return f"{self.axis} is drawn as an axis."
        return f"The half is open from {self.ends[0]} to {self.ends[1]}: an axis joins them."


def open_ends(part: Part) -> tuple[str, ...]:
    """Return the points at which one outline curve alone ends, in the order of the curves."""
    count = Counter(end for curve in part.curves.values() if curve.role == "outline"
                    for end in ends_of(curve))
    return tuple(name for name, times in count.items() if times == 1)


def furthest_in_line(part: Part, names: Sequence[str]) -> tuple[str, ...]:
    """Return the two of some points that are furthest apart, where all lie on the line of these.

    Empty where they do not, and for fewer than two places.
    """
    if not 2 <= len(names) <= MOST:
        return ()
    points = part.points
    one, other = max(combinations(names, 2), key=lambda two: dist(points[two[0]], points[two[1]]))
    line = Line(points[one], points[other])
    if line.length == 0.0:
        return ()
    off = max(distance(line, points[name]) for name in names)
    return (one, other) if off <= IN_LINE * line.length else ()


def offered_axis(
    part: Part, solve: Callable[[Part], Solution], within: float
) -> OfferedAxis | None:
    """Return the axis that a half without a mirror asks for; None where it is not plain.

    Parameters
    ----------
    part : Part
        The part.
    solve : callable
        From a part to its solution.
    within : float
        Degrees off plumb or level within which the new axis is bound so, where that still says
        something and holds.
    """
    if part.mirrors:
        return None
    drawn = [n for n, c in part.curves.items() if c.role == "axis" and isinstance(c, LineCurve)]
    if drawn:
        return OfferedAxis(part, part, drawn[0]) if len(drawn) == 1 else None
    ends = furthest_in_line(part, open_ends(part))
    if not ends:
        return None
    sketch = Sketch(part)
    axis = sketch.draft.line(ends[0], ends[1], "axis")
    (ax, ay), (bx, by) = (part.points[end] for end in ends)
    turn = degrees(atan2(by - ay, bx - ax)) % 180.0
    for kind, wanted in (("plumb", 90.0), ("level", 0.0), ("level", 180.0)):
        if abs(turn - wanted) <= within:
            sketch.tie(kind, axis)
    return OfferedAxis(part, sketch.finish(solve), axis, ends)
