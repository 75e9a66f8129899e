"""How far out something may lie: no further than a file can hold."""

from __future__ import annotations

from sketcher.errors import EditError
from sketcher.geometry.curves import XY
from sketcher.part.node import MAX_NUMBER
from sketcher.part.value import CircleCurve, Part


def check_reach(part: Part) -> None:
    """Raise an EditError when something lies further out than a file can hold."""
    for name, at in part.points.items():
        check_place(name, at)
    for name, curve in part.curves.items():
        if isinstance(curve, CircleCurve) and not curve.radius < MAX_NUMBER:
            raise EditError(name, "would be larger than the sheet", "give a smaller radius")


def check_place(name: str, at: XY) -> None:
    """Raise an EditError when a place lies further out than a file can hold."""
    if not (abs(at[0]) < MAX_NUMBER and abs(at[1]) < MAX_NUMBER):
        raise EditError(name, "would lie beyond the sheet", "give smaller values")
