"""How long a millimetre on a hand-in's paper is, where the key is what everything is laid on."""

from __future__ import annotations

from sketcher.marking.comparison import Comparison

PAPER_SCALES = (1.0, 2.0, 0.5, 5.0, 0.2, 10.0, 0.1)
"""Scales that a plate part is drawn at (ISO 5455, from memory)."""
SAME = 0.01
"""Share within which two scales are one."""


def paper_mm(comparison: Comparison) -> float:
    """Return the length of a millimetre on paper, in the key's unit.

    A drawing whose numbers are half the part's size is taken as drawn 1:2. A header with the wrong
    unit is no scale: then the numbers are taken in the unit in which they are the part's.
    """
    per_number = comparison.pose.scale / comparison.per_mm
    stated = {"mm": 1.0, "in": 25.4, None: 1.0 / comparison.per_mm}[comparison.hand_in.unit]
    if comparison.hand_in.unit is not None:
        stated *= comparison.hand_in.factor
    for unit in (1.0, 25.4, 1.0 / 25.4):
        for scale in PAPER_SCALES:
            if abs(stated * unit / (scale * per_number) - 1.0) < SAME:
                return comparison.per_mm / scale
    return comparison.per_mm


def on_paper(comparison: Comparison, number: float) -> float:
    """Return a length of the file in mm on paper."""
    return number * comparison.pose.scale / paper_mm(comparison)
