"""What each fault costs: points for every place, and the most that one rule can take.

Points and caps are a teacher's (common practice, no source). The rules from `through-hole` on are
those of the drawing board (ASME Y14.5M-1994, 1.7: a dimension line is not crossed and begins at the
feature; one line is drawn once).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

COSTS: dict[str, tuple[int, int]] = {
    # center lines
    "center-mark-missing": (2, 6), "center-line-layer": (2, 2), "plus-covered": (1, 4),
    "overhang": (1, 3), "center-line-doubled": (2, 4), "pattern-not-joined": (2, 2),
    "arc-center-line": (2, 4), "center-line-short": (1, 3), "axis-missing": (2, 2),
    # dimensions
    "dimension-twice": (2, 6), "dimension-value": (3, 9), "typed-over": (5, 5),
    "radius-for-diameter": (2, 4), "count-missing": (1, 3), "text-on-line": (1, 4),
    "dimension-crossing": (1, 4), "extension-gap": (1, 2), "leader-angle": (1, 2),
    "decimals": (1, 2), "sharp-not-shown": (2, 4),
    # the sheet
    "title-block": (1, 4), "scale": (2, 2), "lettering": (1, 2), "line-widths": (2, 2),
    # the drawing board
    "through-hole": (1, 4), "over-center-line": (1, 4), "in-the-air": (2, 4),
    "elbow-on-outline": (1, 2), "stroke-doubled": (1, 2), "white-space": (1, 2),
    "over-outline": (1, 2), "center-line-astray": (1, 3), "text-turned": (1, 2), "spacing": (1, 2),
    "outline-false": (9, 9), "writers-differ": (2, 4), "line-layer": (2, 2), "too-small": (2, 4),
}


@dataclass(frozen=True)
class Fault:
    """One thing to mark: its rule, its place in mm from the sheet's lower left, in words."""

    rule: str
    at: tuple[float, float]
    text: str

    def __str__(self) -> str:
        return f"{self.rule} at ({self.at[0]:.1f}, {self.at[1]:.1f}): {self.text}"


def fault(rule: str, at: Iterable[float], text: str) -> Fault:
    """A fault of a rule that has its cost."""
    assert rule in COSTS, rule
    x, y = (float(v) for v in np.asarray(list(at), float))
    return Fault(rule, (x, y), text)


def points_lost(faults: Iterable[Fault]) -> dict[str, int]:
    """Points by rule, each up to its cap."""
    counts: dict[str, int] = defaultdict(int)
    for found in faults:
        counts[found.rule] += 1
    return {rule: min(n * COSTS[rule][0], COSTS[rule][1]) for rule, n in counts.items()}


def mark(faults: Iterable[Fault]) -> int:
    """From 100, never below zero."""
    return max(0, 100 - sum(points_lost(faults).values()))
