"""The table of holes: a letter beside each hole, and its place and size in the table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, radians, sin

import numpy as np

from sketcher.drafting.layout.ink import Batch, Standing
from sketcher.drafting.layout.paper_ground import Ground
from sketcher.drafting.layout.shapes import boxes_of
from sketcher.drafting.paper_view import View
from sketcher.drafting.primitives import Text
from sketcher.drafting.sheet_tables import Table
from sketcher.geometry.bounds import bounds_of
from sketcher.geometry.curves import XY, Circle
from sketcher.part.printed import length_number
from sketcher.part.value import Part
from sketcher.part.whole import Piece

MOST = (14.0, 26.0, 26.0, 26.0)
TITLES = ("hole", "X", "Y", "Ø")


def holes(part: Part, pieces: Sequence[Piece]) -> list[tuple[str, XY, float]]:
    """Return name, center from the lower left of the part, and diameter of every hole.

    Equal holes share a letter and are numbered from the lower left on: A1, A2, B1. `pieces` are the
    plate's; a circle as large as all of them is its edge.
    """
    x0, y0, x1, y1 = bounds_of(p.curve for p in pieces if p.role == "outline")
    most = 0.5 * max(x1 - x0, y1 - y0) * (1.0 - 1e-9)
    circles = [p.curve for p in pieces if p.role == "outline" and isinstance(p.curve, Circle)
               and p.curve.radius < most]
    sizes = sorted({round(c.radius, 9) for c in circles}, reverse=True)
    found = []
    for number, size in enumerate(sizes):
        same = sorted((c for c in circles if round(c.radius, 9) == size),
                      key=lambda c: (round(c.center[1], 6), round(c.center[0], 6)))
        for k, circle in enumerate(same, 1):
            x, y = circle.center
            found.append((f"{_letter(number)}{k}", (x - x0, y - y0), 2.0 * circle.radius))
    return found


def _letter(number: int) -> str:
    return (_letter(number // 26 - 1) if number >= 26 else "") + chr(ord("A") + number % 26)


def hole_table(part: Part, pieces: Sequence[Piece]) -> Table:
    """Return the table of holes; X and Y run from the lower left corner of the part's box."""
    def said(value: float) -> str:
        return length_number(value + 0.0, part.unit).text

    rows = tuple((name, said(at[0]), said(at[1]), said(size))
                 for name, at, size in holes(part, pieces))
    return Table(TITLES, rows, MOST)


def hole_labels(
    part: Part, view: View, pieces: Sequence[Piece], height: float, ground: Ground
) -> list[Text]:
    """Return a label beside each hole, clear of outline and center lines."""
    x0, y0, _, _ = bounds_of(p.curve for p in pieces if p.role == "outline")
    named = holes(part, pieces)
    standing = Standing([0] * len(named))
    found: list[Text] = []
    for number, (name, (x, y), size) in enumerate(named):
        spots = list(_spots(name, view.point((x + x0, y + y0)), 0.5 * size * view.factor, height))
        boxes = boxes_of(text for _, text in spots)
        batch = Batch(np.zeros((0, 4)), np.zeros(0, np.intp), np.zeros(0, np.intp), boxes)
        cost = np.array([away for away, _ in spots]) + ground.ink.costs(batch)[:, 0]
        best = int((cost + standing.costs(batch).sum(axis=1)).argmin())
        standing.put(number, *batch.only(best))
        found.append(spots[best][1])
    return found


def _spots(name: str, at: XY, radius: float, height: float) -> Iterator[tuple[float, Text]]:
    """Give places of a label with what they cost by themselves."""
    for away in (1.0, 2.5, 4.5, 7.0):
        for angle in (45.0, 135.0, 225.0, 315.0, 60.0, 30.0, 120.0, 150.0):
            c, s = cos(radians(angle)), sin(radians(angle))
            x, y = at[0] + (radius + away) * c, at[1] + (radius + away) * s
            yield away, Text(name, (x, y - (height if s < 0 else 0.0)), height, f"hole:{name}",
                             "left" if c > 0 else "right")
