"""Fields of holes too small to be drawn one by one: a line around them and the corners drawn.

How many there are and their steps say the dimensions (ISO 128-3, repetitive features; from memory).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from sketcher.geometry.curves import XY, Line


@dataclass(slots=True)
class DrawnField:
    """The corners of the line around a field, in order, and the steps that were read along it."""

    corners: tuple[XY, ...]
    steps: dict[tuple[float, float], int] = field(default_factory=dict)

    def holds(self, at: XY) -> bool:
        """Tell whether a place lies within."""
        turns = [(b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0])
                 for a, b in zip(self.corners, (*self.corners[1:], self.corners[0]), strict=True)]
        return min(turns) > 0.0 or max(turns) < 0.0

    def stepped(self, way: XY, count: int) -> None:
        """Note how many steps there are along a direction."""
        self.steps[round(abs(way[0]), 3), round(abs(way[1]), 3)] = count

    @property
    def holes(self) -> int:
        """Number of holes as the steps along both sides say it; 0 while one is unknown."""
        if len(self.steps) != 2:
            return 0
        one, other = self.steps.values()
        return (one + 1) * (other + 1)


def read_fields(strokes: Iterable[tuple[Line, str]]) -> list[DrawnField]:
    """Return the fields of strokes, each with the name of the line that it is a side of."""
    sides: dict[str, list[Line]] = {}
    for line, name in strokes:
        sides.setdefault(name, []).append(line)
    found = []
    for lines in sides.values():
        for k in range(0, len(lines) - 3, 4):
            found.append(DrawnField(tuple(line.start for line in lines[k:k + 4])))
    return found
