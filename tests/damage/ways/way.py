"""What a way of spoiling a drawing is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from random import Random

from tests.damage.strokes import Spoiled


@dataclass(frozen=True)
class Way:
    """One way: its name, and what it makes of a drawing; `rank` orders it among others.

    Geometry comes first (0), then what tears ends apart (1), the order of the strokes (2), and
    what is done to the file as a whole (3).
    """

    name: str
    spoil: Callable[[Spoiled, Random], Spoiled]
    rank: int = 3
