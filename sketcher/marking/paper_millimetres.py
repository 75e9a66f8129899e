"""How long a millimetre on a hand-in's paper is, where the key is what everything is laid on."""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.scale_told import printed_scale, scale_told


def paper_mm(comparison: Comparison) -> float:
    """Return the length of a millimetre on paper, in the key's unit.

    A drawing whose numbers are half the part's size is taken as drawn 1:2. A header with the wrong
    unit is no scale: then the numbers are taken in the unit in which they are the part's. A sheet
    around a part at true size is printed at the scale that its words say.
    """
    return comparison.per_mm / (scale_told(comparison).drawn * printed_scale(comparison))


def on_paper(comparison: Comparison, number: float) -> float:
    """Return a length of the file in mm on paper."""
    return number * comparison.pose.scale / paper_mm(comparison)
