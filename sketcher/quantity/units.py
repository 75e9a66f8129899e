"""Length units: the two that a part can have, and how texts write them."""

from __future__ import annotations

from fractions import Fraction

MM_PER_INCH = 25.4
"""Exact by definition: the international inch (agreement of 1959)."""

UNIT_NAMES = {"mm": "millimetres", "in": "inches"}
"""The two that a part can have, in words."""

MM_PER: dict[str, Fraction] = {
    "mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": Fraction(254, 10),
}

SPELLINGS: dict[str, str] = {
    "mm": "mm", "cm": "cm", "m": "m",
    "in": "in", "inch": "in", "inches": "in", '"': "in", "″": "in", "”": "in", "''": "in",
}
"""Every way to write a length unit behind a number."""


def exact_length(amount: Fraction, source: str, target: str) -> Fraction:
    """Convert a length without rounding: 25.4 mm are exactly 1 in."""
    return amount if source == target else amount * MM_PER[source] / MM_PER[target]


def convert(amount: float, source: str, target: str) -> float:
    """Convert a length between units, rounded once; equal units leave it bit by bit the same.

    The decimal number that the float prints as is converted: 25.4 mm give exactly 1 in.

    Parameters
    ----------
    amount : float
        Finite length in `source`.
    source, target : str
        ``"mm"``, ``"cm"``, ``"m"`` or ``"in"``.
    """
    if source == target:
        return amount
    return float(exact_length(Fraction(repr(float(amount))), source, target))
