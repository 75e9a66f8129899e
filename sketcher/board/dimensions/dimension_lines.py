"""Dimensions as a drawing shows them: extension and dimension lines, arrowheads, text."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sketcher.geometry.curves import XY, Curve, Line
from sketcher.part.instances import copies
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part

MARKS: Mapping[str, str] = {"doubled": " \N{DOUBLE VERTICAL LINE}",
                            "clashing": " \N{MULTIPLICATION X}"}
"""What the screen writes behind a dimension by its state, so that it tells without colour."""
FEW = 60
"""Dimensions that are laid out at once: some 0.2 s from nothing where they are
crowded, 30 ms where most are kept."""
SMALL = 400
"""Curves with their images beside which a few dimensions are laid out at once."""


@dataclass(frozen=True, slots=True)
class Arrow:
    """An arrowhead: its tip and the unit direction in which it points."""

    tip: XY
    direction: XY


@dataclass(frozen=True, slots=True)
class DimLines:
    """One dimension as lines and a text, in the part's unit.

    Parameters
    ----------
    binding : str
        Id of the binding; empty for a dimension that is not in the part yet.
    extensions : tuple of Line
        Extension lines, from near the geometry to just past the dimension line.
    curves : tuple of Line or Arc
        Dimension line or arc, and leaders.
    arrows : tuple of Arrow
        Arrowheads at the ends of the dimension line.
    text : str
        With its sign (R, the diameter sign, parentheses of a reference dimension, tolerance).
    anchor : tuple of float
        Middle of the text.
    turn : float
        Direction in which the text reads, radians from level, in (-pi/2, pi/2].
    drives : bool
        False for a reference dimension.
    state : str
        ``"ok"``, ``"doubled"`` or ``"clashing"``.
    """

    binding: str
    extensions: tuple[Line, ...]
    curves: tuple[Curve, ...]
    arrows: tuple[Arrow, ...]
    text: str
    anchor: XY
    turn: float = 0.0
    drives: bool = True
    state: str = "ok"


def are_few(part: Part) -> bool:
    """Tell whether a part is so small, with so few dimensions, that they are laid out at once."""
    return (sum(KINDS[b.kind].quantity is not None for b in part.bindings.values()) <= FEW
            and len(part.curves) * copies(part) <= SMALL)
