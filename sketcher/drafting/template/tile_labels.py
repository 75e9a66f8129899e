"""The letters beside the holes on one sheet of a template, clear of lines and of each other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, radians, sin

import numpy as np
from numpy.typing import NDArray

from sketcher.drafting.layout.ink import HARD, Batch, Standing
from sketcher.drafting.layout.paper_ground import Ground
from sketcher.drafting.lettering import descent
from sketcher.drafting.primitives import Text
from sketcher.drafting.template.template_ink import Punch

HEIGHT = 3.0
"""mm: the least that a sheet is lettered with (see `paper_sizes.LEAST_LETTERING`)."""
TURNS = tuple(radians(turn) for turn in (45, 135, 315, 225, 60, 30, 120, 150, 300, 330, 240, 210,
                                         0, 180))
"""Directions in which a label may stand from its cross, the usual ones first."""
AWAY = (1.0, 2.5, 4.5, 7.0, 10.0)
"""How far from the rim, or from the cross within a large hole, in mm."""
WITHIN = 6.0
"""mm, radius of the smallest hole that a label has room in."""
SHORTER = 100.0
"""What it costs to leave the size out: more than any place, less than to stand on a line."""
FIELD, FIELD_REACH = 5, 2.0 * HEIGHT
"""With more holes than this within so many mm, itself among them, no letter fits beside one, and a
field of a thousand would be searched for minutes to learn it. A square grid of 5 mm is no field."""
ROW = 0.01
"""What a direction costs more than the one before: of places as near it decides."""


def labels(punches: Sequence[Punch], ground: Ground) -> tuple[list[Text], int]:
    """Return the labels of a sheet, and for how many holes it has no room.

    Parameters
    ----------
    punches : sequence of Punch
        Those on the sheet that have words, as they lie on it.
    ground : Ground
        All lines of the sheet, and what of it is seen.
    """
    standing = Standing([0] * len(punches))
    rims = np.array([(*punch.at, punch.radius) for punch in punches]).reshape(-1, 3)
    found: list[Text] = []
    for number, punch in enumerate(punches):
        if np.count_nonzero(np.hypot(*(rims[:, :2] - punch.at).T) < FIELD_REACH) > FIELD:
            continue
        spots = [(cost + extra, text) for words, extra in ((punch.words, 0.0),
                                                           (punch.name, SHORTER))
                 for cost, text in _spots(punch, words)]
        boxes = _boxes([text for _, text in spots])
        own = np.flatnonzero(_nearest(boxes, rims) == number)
        if not len(own):
            continue
        batch = Batch(np.zeros((0, 4)), np.zeros(0, np.intp), np.zeros(0, np.intp), boxes[own])
        cost = np.array([spots[k][0] for k in own]) + ground.costs(batch)
        cost += standing.costs(batch).sum(axis=1)
        best = int(cost.argmin())
        # Dearer is only what stands on a line, on another label or off the sheet.
        if cost[best] < HARD:
            standing.put(number, *batch.only(best))
            found.append(spots[own[best]][1])
    return found, len(punches) - len(found)


def _nearest(boxes: NDArray[np.float64], rims: NDArray[np.float64]) -> NDArray[np.intp]:
    """Return for each box of level lettering the number of the hole whose rim is nearest.

    Beside another hole a label would be read as that one's.
    """
    x, y = (np.maximum(np.abs(rims[:, k] - boxes[:, k, None]) - boxes[:, 4 + k, None], 0.0)
            for k in (0, 1))
    return np.asarray(np.abs(np.hypot(x, y) - rims[:, 2]).argmin(axis=1))


def _spots(punch: Punch, words: str) -> Iterator[tuple[float, Text]]:
    """Give places of a label with what they cost by themselves: inside a large hole or beside."""
    for away in AWAY:
        for rank, turn in enumerate(TURNS):
            c, s = cos(turn), sin(turn)
            inside = (away,) if away < punch.radius >= WITHIN else ()
            for reach in (*inside, punch.radius + away):
                x, y = punch.at[0] + reach * c, punch.at[1] + reach * s
                yield away + ROW * rank, Text(
                    words, (x, y - 0.5 * HEIGHT * (1.0 - s)), HEIGHT, f"punch:{punch.name}",
                    "left" if c > 0.0 else "right")


def _boxes(texts: Sequence[Text]) -> NDArray[np.float64]:
    """Return the boxes of level lettering of one height, as rows of a `Batch`."""
    low = -0.2 * descent(HEIGHT)
    rows = np.empty((len(texts), 6))
    half = np.array([0.5 * text.width for text in texts])
    side = np.array([1.0 if text.anchor == "left" else -1.0 for text in texts])
    at = np.array([text.at for text in texts])
    rows[:, 0], rows[:, 1] = at[:, 0] + side * half, at[:, 1] + 0.5 * (low + HEIGHT)
    rows[:, 2:4] = 1.0, 0.0
    rows[:, 4], rows[:, 5] = half, 0.5 * (HEIGHT - low)
    return rows
