"""A half that is drawn and not yet mirrored: open at ends that all lie in one line."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import combinations
from math import dist

from sketcher.geometry.curves import Line
from sketcher.geometry.project import distance
from sketcher.part.curve_questions import ends_of
from sketcher.part.value import Part

MOST = 64
"""A sketch that is open at more places is no half of a plate yet."""

IN_LINE = 1e-6
"""Share of its length by which ends may lie off the axis and still be cut by it."""


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
