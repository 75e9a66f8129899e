"""A kind's sign: strokes in a box from -1 to 1, y up, drawn for this program; plain numbers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

Stroke: TypeAlias = tuple[tuple[float, float], ...]
Ring: TypeAlias = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Sign:
    """One sign.

    Parameters
    ----------
    strokes : tuple of tuple of (float, float)
        Polylines.
    rings, dots : tuple of (float, float, float)
        Circles as x, y and radius; dots are filled.
    """

    strokes: tuple[Stroke, ...] = ()
    rings: tuple[Ring, ...] = ()
    dots: tuple[Ring, ...] = ()
