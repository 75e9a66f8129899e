"""Step 9: equal circles in rows or round a center."""

from __future__ import annotations

from sketcher.intake.linework import HalfShape
from sketcher.intake.wishes import Wishes


def patterned(half: HalfShape, wishes: Wishes) -> HalfShape:
    """Return the half with the patterns of its circles."""
    return half
