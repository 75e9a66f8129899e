"""Step 3: what is drawn too often or not at all."""

from __future__ import annotations

from sketcher.intake.linework import Linework
from sketcher.intake.wishes import Wishes


def weeded(lines: Linework, wishes: Wishes) -> Linework:
    """Return the drawing without specks, doubles, overlaps and seams."""
    return lines
