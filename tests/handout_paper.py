"""Reads the dimensions off a handout's PDF, letter by letter put together as an eye does it.

Nothing here knows the part or the display list; pdfplumber gives the letters.
"""

from __future__ import annotations

import re
from math import atan2, cos, dist, sin
from pathlib import Path
from typing import Any

import pdfplumber

XY = tuple[float, float]

HEADING = "notes:"
NEXT = 0.9
"""Of the height of lettering that two letters of one text lie apart at most."""
SPACE = 0.15
"""Of the same height, from which on they are letters of two words."""
LONG = 100.0
"""Points; a centring mark is as wide as the frame, and shorter."""
DIMENSION = re.compile(
    r"(?:(?P<count>\d+)[xX] )?[RØ]?(?P<number>\d[\d ./]*?)°?(?: equally spaced)?")


class HandoutPaper:
    """The dimensions of a handout; calling it with a text that stands there gives its number.

    Parameters
    ----------
    path : Path
        The handout's PDF.
    """

    def __init__(self, path: Path) -> None:
        with pdfplumber.open(path) as document:
            page = document.pages[0]
            texts = _texts(page.chars)
            left, right, top = _frame(page.lines, float(page.height))
        notes = next(y for text, (_, y) in texts if text.lower() == HEADING)
        self.texts = [text for text, (x, y) in texts if notes < y < top and left < x < right]
        self.taken: set[str] = set()

    def __call__(self, text: str) -> str:
        """Return the number of a dimension as it is typed."""
        return self._read(text)["number"].strip()

    def count(self, text: str) -> str:
        """Return how often a dimension is there, as it says."""
        return self._read(text)["count"]

    def _read(self, text: str) -> re.Match[str]:
        assert text in self.texts, (text, self.texts)
        self.taken.add(text)
        found = DIMENSION.fullmatch(text)
        assert found is not None, text
        return found

    def left(self) -> list[str]:
        """Return the dimensions that nobody has taken; where there is no number nothing is left."""
        return sorted(text for text in set(self.texts) - self.taken if DIMENSION.fullmatch(text))




def _frame(lines: list[dict[str, Any]], high: float) -> tuple[float, float, float]:
    """Left, right and upper edge of the frame, whose lines are the widest of the long ones."""
    long = [line["pts"] for line in lines if dist(*line["pts"]) > LONG
            and line["linewidth"] == max(each["linewidth"] for each in lines)]
    xs, ys = ([at[k] for line in long for at in line] for k in (0, 1))
    return min(xs), max(xs), high - min(ys)


def _texts(chars: list[dict[str, Any]]) -> list[tuple[str, XY]]:
    """Letters that follow each other on one base line, as texts with their starts, y up."""
    found: list[tuple[str, XY]] = []
    end, before = (0.0, 0.0), (0.0, 0.0)
    for char in chars:
        a, b, _, _, x, y = char["matrix"]
        turn, size = atan2(b, a), char["size"]
        way = (cos(turn), sin(turn))
        ahead = (x - end[0]) * way[0] + (y - end[1]) * way[1]
        aside = (y - end[1]) * way[0] - (x - end[0]) * way[1]
        letter = char["text"].replace("\t", " ")  # pdfplumber's word for the gap that Qt leaves
        same = abs(before[0] - way[0]) + abs(before[1] - way[1]) < 1e-3
        if same and abs(ahead) < NEXT * size and abs(aside) < 0.1 * size:
            text, at = found.pop()
            gap = " " if ahead > SPACE * size and letter != " " and text[-1] != " " else ""
            found.append((text + gap + letter, at))
        else:
            found.append((letter, (x, y)))
        wide, high = char["x1"] - char["x0"], char["bottom"] - char["top"]
        step = wide if abs(way[1]) < 0.1 else high if abs(way[0]) < 0.1 else 0.5 * size
        end, before = (x + step * way[0], y + step * way[1]), way
    return found
