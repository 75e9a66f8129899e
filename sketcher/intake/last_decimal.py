"""The last decimal to which the numbers of a drawing were written."""

from __future__ import annotations

import numpy as np

NEARLY_ALL = 0.95
MOST_DECIMALS = 9
FEW = 2
"""So few decimals are those of a drawing in round figures, unless their digits look like chance."""
CHANCE = 0.5
"""Of numbers cut off anywhere four in five end neither with 0 nor with 5."""


def last_decimal(numbers: np.ndarray) -> float:
    """Return the last decimal that nearly all numbers keep to; 0 when they are written in full.

    A plate of 120 by 12.5 was not cut off after the first decimal: its numbers are meant so, and
    whole ones always are.

    Examples
    --------
    >>> last_decimal(np.array([12.5, 3.0012, 7.25])), last_decimal(np.array([12.5, 30.0, 7.0]))
    (0.0001, 0.0)
    >>> last_decimal(np.array([1.0, 3.0, 7.0]))
    0.0
    """
    for digits in range(MOST_DECIMALS):
        counts = numbers * 10.0 ** digits
        off = np.abs(counts - np.round(counts))
        if np.mean(off <= 1e-12 * np.maximum(np.abs(counts), 10.0 ** digits)) > NEARLY_ALL:
            odd = float(np.mean(np.round(counts) % 5.0 != 0.0))
            return 0.0 if digits == 0 or (digits <= FEW and odd < CHANCE) else float(f"1e-{digits}")
    return 0.0
