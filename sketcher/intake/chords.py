"""Step 5: chains of chords become the arcs that they stand for."""

from __future__ import annotations

from sketcher.intake.linework import Linework
from sketcher.intake.wishes import Wishes


def chords_to_arcs(lines: Linework, wishes: Wishes) -> Linework:
    """Return the drawing with arcs in place of chords."""
    return lines
