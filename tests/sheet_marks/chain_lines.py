"""Center lines put together again: one line is written as several strokes with gaps between."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from tests.sheet_marks.written_sheet import Inked

MOST_GAP = 2.0  # mm; the widest gap of the two practices is 1.5 mm (common practice, no source)
ACROSS = 0.03


@dataclass
class ChainLine:
    """A straight center line: where it runs, and its strokes in order along it."""

    origin: np.ndarray
    way: np.ndarray
    strokes: list[Inked] = field(default_factory=list)

    def reach(self, stroke: Inked) -> tuple[float, float]:
        """Where a stroke begins and ends along the line."""
        s = (stroke.at[[0, -1]] - self.origin) @ self.way
        return float(s.min()), float(s.max())

    @property
    def low(self) -> float:
        return min(self.reach(s)[0] for s in self.strokes)

    @property
    def high(self) -> float:
        return max(self.reach(s)[1] for s in self.strokes)

    def at(self, s: float) -> np.ndarray:
        """The place at a distance along the line."""
        return self.origin + s * self.way

    def across(self, at: np.ndarray) -> float:
        """Distance of a place from the endless line."""
        d = np.asarray(at) - self.origin
        return abs(float(d[0] * self.way[1] - d[1] * self.way[0]))

    def holds(self, at: np.ndarray, more: float = 0.0) -> bool:
        """Whether a place lies on the line between its ends."""
        s = float((np.asarray(at) - self.origin) @ self.way)
        return self.across(at) < 0.05 and self.low - more <= s <= self.high + more


def chain_lines(centers: Sequence[Inked]) -> list[ChainLine]:
    """Straight center lines, each from the strokes that follow one another in one line."""
    rows: list[ChainLine] = []
    for stroke in sorted((s for s in centers if s.straight), key=lambda s: -s.whole.length):
        for row in rows:
            if all(row.across(p) < ACROSS for p in stroke.at):
                row.strokes.append(stroke)
                break
        else:
            rows.append(ChainLine(stroke.at[0], stroke.way, [stroke]))
    found: list[ChainLine] = []
    for row in rows:
        line = ChainLine(row.origin, row.way)
        for stroke in sorted(row.strokes, key=lambda s, row=row: row.reach(s)[0]):
            if line.strokes and row.reach(stroke)[0] - line.high > MOST_GAP:
                found.append(line)
                line = ChainLine(row.origin, row.way)
            line.strokes.append(stroke)
        found.append(line)
    return found
