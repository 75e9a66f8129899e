"""Length units: the two that a part can have, and how texts write them."""

from __future__ import annotations

from typing import Literal, TypeAlias

LengthUnit: TypeAlias = Literal["mm", "in"]

MM_PER_INCH = 25.4
"""Exact by definition: the international inch (agreement of 1959)."""

MM_PER: dict[str, float] = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": MM_PER_INCH}

SPELLINGS: dict[str, str] = {
    "mm": "mm", "cm": "cm", "m": "m",
    "in": "in", "inch": "in", "inches": "in", '"': "in", "″": "in", "”": "in", "''": "in",
}
"""Every way to write a length unit behind a number."""


def convert(amount: float, source: str, target: str) -> float:
    """Convert a length between units; equal units leave it bit by bit the same.

    Parameters
    ----------
    amount : float
        Length in `source`.
    source, target : str
        ``"mm"``, ``"cm"``, ``"m"`` or ``"in"``.
    """
    if source == target:
        return amount
    if target == "mm":
        return amount * MM_PER[source]
    if source == "mm":
        return amount / MM_PER[target]
    return amount * MM_PER[source] / MM_PER[target]
