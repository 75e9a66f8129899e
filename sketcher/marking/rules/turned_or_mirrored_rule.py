"""A part that is drawn turned, or as its mirror image."""

from __future__ import annotations

from sketcher.geometry.bounds import bounds_of
from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake
from sketcher.marking.poses import Pose
from sketcher.quantity.format import angle


def decide(comparison: Comparison) -> tuple[Mistake, ...]:
    """Return how the hand-in lies otherwise than the key: one mistake."""
    found = lies(comparison.pose, comparison.within_angle)
    if not found:
        return ()
    x0, y0, x1, y1 = bounds_of(each.curve for each in comparison.outline)
    return (Mistake((0.5 * (x0 + x1), 0.5 * (y0 + y1)), found, "as on the paper",
                    f"the part is drawn {found}"),)


def lies(pose: Pose, within: float) -> str:
    """Return how what has a pose was drawn, seen from the key; empty when it lies as the key does.

    Parameters
    ----------
    pose : Pose
        Which takes it back to the key.
    within : float
        Degrees that are no turn.
    """
    turn = (pose.turn + 180.0) % 360.0 - 180.0  # what brings it back; it was turned the other way
    turned = abs(turn) > within
    by = angle(abs(turn), 2)
    way = "" if abs(turn) > 180.0 - within else " clockwise" if turn > 0.0 else " counter-clockwise"
    if not pose.mirrored:
        return f"turned by {by}{way}" if turned else ""
    if not turned:
        return "mirrored left to right"
    if not way:
        return "mirrored top to bottom"
    return f"turned by {by}{way}, then mirrored left to right"


RULE = MarkingRule("turned-or-mirrored", "drawn turned or as a mirror image", 3.0, 3.0, "outline",
                   decide, rank=18)
