"""Sizes of dimensions on paper, in mm, by practice and height of lettering."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

from sketcher.drafting.dimension_text import Wording
from sketcher.drafting.line_classes import Practice

BELOW_BASE = 0.28
"""How far the parentheses of the font reach below the base line, of the height of capitals."""
Measure: TypeAlias = Callable[[Wording, float], tuple[float, float]]
"""From what is said and the height of lettering to its width and height in mm."""


def measured_on_paper(wording: Wording, height: float) -> tuple[float, float]:
    """Return width and height of lettering with stacked deviations, as the sheet writes it."""
    return wording.width(height), wording.height(height)


@dataclass(frozen=True, slots=True)
class Sizes:
    """What a dimension is made of.

    First row >= 10 mm from the outline, others >= 6 mm (ASME Y14.5M-1994, 1.7.1);
    extension lines with a visible gap of about 1.5 mm and 2 to 3 mm past the dimension line (1.7.2
    and print-reading textbooks); arrowheads 3:1, as long as lettering is high (ASME Y14.2-2008).
    `measure` says how much room lettering takes: paper and screen write it differently.
    """

    practice: Practice
    height: float
    measure: Measure = measured_on_paper

    def lettering(self, wording: Wording) -> tuple[float, float]:
        """Return width and height of what a dimension says."""
        return self.measure(wording, self.height)

    @property
    def arrow(self) -> tuple[float, float]:
        """Length and width of an arrowhead."""
        return (self.height, self.height / 3.0)

    @property
    def tail(self) -> float:
        """How far a dimension line runs on behind arrowheads that stand outside.

        So little that in a hole of 12 mm the tail leaves the plus uncovered.
        """
        return self.height + 1.2

    gap: float = 1.5
    past: float = 2.0
    first_row: float = 10.0
    shoulder: float = 3.0

    @property
    def clear(self) -> float:
        """Clear space between a line and the base of its lettering.

        Half a millimetre more than parentheses reach below the base line.
        """
        return 0.5 + BELOW_BASE * self.height

    @property
    def row(self) -> float:
        """Distance of the rows."""
        return max(7.0, 2.3 * self.height)
