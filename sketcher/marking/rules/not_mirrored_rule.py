"""A half that is not the exact reflection of the other about the key's axis."""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake


def decide(comparison: Comparison) -> tuple[Mistake, ...]:
    """Return by how much a half is off as a whole: one mistake, however much it carries."""
    mirror = comparison.pieces.mirror
    if mirror is None:
        return ()
    words = comparison.pieces.words
    parts = []
    if abs(mirror.move.degrees) > comparison.within_angle:
        parts.append(f"axis turned by {words.angle(abs(0.5 * mirror.move.degrees))}")
    if abs(mirror.apart) > comparison.within:
        parts.append(f"axis moved by {words.amount(0.5 * mirror.apart)}")
    if abs(mirror.slide) > comparison.within:
        parts.append(f"half slid along the axis by {words.amount(mirror.slide)}")
    found = ", ".join(parts) or "half moved"
    return (Mistake(mirror.at, found, "reflected",
                    f"the half {words.where(mirror.at)} is no exact reflection of the other: "
                    f"{found}"),)


RULE = MarkingRule("not-mirrored", "halves that are no reflections", 4.0, 4.0,
                   "outline", decide, rank=11)
