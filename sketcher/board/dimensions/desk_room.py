"""The room that dimensions take on the sheet: rows, texts and leaders that the next keep off."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from math import cos, sin

from sketcher.geometry.curves import XY
from sketcher.part.mirror import axis_line
from sketcher.part.value import Part

ROW = 24.0
"""Pixels from row to row."""
MOST_ROWS = 30
LETTER, LINE = 8.0, 18.0
"""Pixels that a letter is wide and a line of text high, with some air."""

Box = tuple[float, float, float, float]
Leader = tuple[XY, XY]


@dataclass
class Layout:
    """One pass over a part's dimensions.

    Parameters
    ----------
    part : Part
    px : float
        One pixel in the part's unit.
    """

    part: Part
    px: float
    middle: XY = (0.0, 0.0)
    away: XY = (0.0, 0.0)
    rows: dict[tuple[float, ...], list[tuple[float, float, float]]] = field(default_factory=dict)
    texts: list[Box] = field(default_factory=list)
    leaders: list[Leader] = field(default_factory=list)

    def __post_init__(self) -> None:
        points = list(self.part.points.values()) or [(0.0, 0.0)]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        self.middle = (0.5 * (min(xs) + max(xs)), 0.5 * (min(ys) + max(ys)))
        self.away = self._away()

    def _away(self) -> XY:
        """Return the unit direction from the mirror's axis to the half; (0, 0) without a mirror."""
        if not self.part.mirrors:
            return (0.0, 0.0)
        line = axis_line(self.part, self.part.mirrors[0])
        ux, uy = line.direction
        x, y = self.middle[0] - line.start[0], self.middle[1] - line.start[1]
        side = 1.0 if ux * y - uy * x >= 0.0 else -1.0
        return (-side * uy, side * ux)

    def take(self, anchor: XY, text: str, turn: float, leader: Leader | None = None) -> None:
        """Note where a text stands, and the leader that runs to it."""
        self.texts.append(self._box(anchor, text, turn))
        if leader is not None:
            self.leaders.append(leader)

    def clear(self, anchors: Iterable[tuple[XY, float, XY | None]], text: str) -> int:
        """Return the number of the anchor where a text is least in the way; the first of equals.

        Each anchor comes with the direction in which the text reads and where its leader begins,
        if it has one. Texts that cover each other and leaders that run through a text count.
        """
        best, fewest = 0, len(self.texts) + len(self.leaders) + 1
        for number, (anchor, turn, start) in enumerate(anchors):
            box = self._box(anchor, text, turn)
            x, y, wide, high = box
            trouble = sum(abs(x - u) < wide + w and abs(y - v) < high + h
                          for u, v, w, h in self.texts)
            trouble += sum(crosses(a, b, box) for a, b in self.leaders)
            if start is not None:
                trouble += sum(crosses(start, anchor, other) for other in self.texts)
            if trouble < fewest:
                best, fewest = number, trouble
            if trouble == 0:
                break
        return best

    def _box(self, anchor: XY, text: str, turn: float) -> Box:
        """Return middle, half width and half height of the level box around a text."""
        c, s = abs(cos(turn)), abs(sin(turn))
        wide, high = 0.5 * LETTER * len(text) * self.px, 0.5 * LINE * self.px
        return (*anchor, wide * c + high * s, wide * s + high * c)

    def free_row(
        self, direction: XY, low: float, high: float, base: float,
        blocked: Callable[[float], bool],
    ) -> float:
        """Return the height of the nearest row, from `base` on, that is free from low to high.

        Rows of one direction share heights, so that dimensions beside each other line up.
        `blocked` tells of a height whether something else stands in its way.
        """
        key = (round(direction[0], 6), round(direction[1], 6))
        taken = self.rows.setdefault(key, [])
        step, margin = ROW * self.px, 6.0 * self.px
        height = base
        for _ in range(MOST_ROWS):
            if not blocked(height) and not any(
                abs(height - other) < 0.9 * step and low < b - margin and a + margin < high
                for other, a, b in taken
            ):
                break
            height += step
        taken.append((height, low, high))
        return height


def crosses(a: XY, b: XY, box: Box) -> bool:
    """Tell whether the way from `a` to `b` runs through a level box (middle, half sizes)."""
    low, high = 0.0, 1.0
    for start, step, middle, half in (
        (a[0], b[0] - a[0], box[0], box[2]), (a[1], b[1] - a[1], box[1], box[3])
    ):
        if step == 0.0:
            if abs(start - middle) >= half:
                return False
            continue
        first, last = sorted(((middle - half - start) / step, (middle + half - start) / step))
        low, high = max(low, first), min(high, last)
    return low < high
