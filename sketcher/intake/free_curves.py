"""Free curves (splines, ellipses) become arcs."""

from __future__ import annotations

from sketcher.intake.linework import Linework
from sketcher.intake.wishes import Wishes


def free_curves_to_arcs(lines: Linework, wishes: Wishes) -> Linework:
    """Return the drawing with arcs in place of free curves."""
    return lines
