"""A leader to a round that is level or plumb: it is taken for a dimension line or a center line.

Leaders are slanted, best at 30° to 60° (ASME Y14.2 and ISO 128-22, both from memory).
"""

from __future__ import annotations

from math import atan2, degrees

from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_DIMENSIONS
from sketcher.marking.stated_dimensions import stated_dimensions
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
    for each in stated.each:
        points = each.dimension.points
        if not each.is_round or len(points) < 2 or points[0] == points[1]:
            continue
        # on the hand-in's own paper, whichever way it lies on the key
        turn = degrees(atan2(points[1][1] - points[0][1], points[1][0] - points[0][0])) % 90.0
        off = min(turn, 90.0 - turn)
        if off < least - 1e-6:
            text = each.dimension.text
            found.append(Mistake(each.at, angle(turn, 1), f"{angle(30.0)} to {angle(60.0)}",
                                 f"the leader of {text} is nearly level or plumb",
                                 (each.dimension.number,)))
    return tuple(sorted(found, key=lambda mistake: mistake.at))


RULE = MarkingRule("leader-angle", "a leader that is level or plumb", 1.0, 2.0, "dimensions",
                   decide, rank=9, limit=LEAST, limit_text="least angle to level and plumb, °")
