"""A leader to a round that is level or plumb: it is taken for a dimension line or a center line.

Leaders are slanted, best at 30° to 60° (ASME Y14.2 and ISO 128-22, both from memory).
"""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, degrees

from sketcher.geometry.curves import XY, Line
from sketcher.geometry.project import distance
from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_DIMENSIONS
from sketcher.marking.stated_dimensions import StatedDimensions, stated_dimensions
from sketcher.quantity.format import angle

LEAST = 10.0
"""Degrees from level and plumb (common practice, no source)."""


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the radii and diameters whose leader is too near to level or plumb on paper."""
    stated = stated_dimensions(comparison)
    if stated is None:
        return NO_DIMENSIONS
    least = comparison.limits.get("leader-angle", LEAST)
    found = []
    for at, text, one, other, number in _leaders(comparison, stated):
        # on the hand-in's own paper, whichever way it lies on the key
        turn = degrees(atan2(other[1] - one[1], other[0] - one[0])) % 90.0
        if min(turn, 90.0 - turn) < least - 1e-6:
            found.append(Mistake(at, angle(turn, 1), f"{angle(30.0)} to {angle(60.0)}",
                                 f"the leader{text} is nearly level or plumb", (number,)))
    return tuple(sorted(found, key=lambda mistake: mistake.at))


def _leaders(comparison: Comparison, stated: StatedDimensions
             ) -> Iterator[tuple[XY, str, XY, XY, int]]:
    """Yield leaders to rounds: place, of what, two places of it in the file, entity."""
    for each in stated.each:
        points = each.dimension.points
        if each.is_round and len(points) > 1 and points[0] != points[1]:
            yield (each.at, f" of {each.dimension.text}", points[0], points[1],
                   each.dimension.number)
    content = comparison.hand_in.content
    for leader in () if content is None else content.leaders:
        one, other = leader.points[:2]
        tip = comparison.laid_point(one)
        on_round = any(not isinstance(edge.curve, Line) and distance(edge.curve, tip) <= (
            stated.finder.reach) for edge in comparison.outline)
        if one != other and on_round:
            yield tip, f" of {leader.text}" if leader.text else "", one, other, leader.number


RULE = MarkingRule("leader-angle", "a leader that is level or plumb", 1.0, 2.0, "dimensions",
                   decide, rank=9, limit=LEAST, limit_text="least angle to level and plumb, °")
