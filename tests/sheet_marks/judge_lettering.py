"""Lettering: its height, and that nothing touches it.

Height at least 3 mm or 0.12 in (ASME Y14.2 Table 1, from memory); clear by half a millimetre
(common practice, no source).
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from tests.sheet_marks.deductions import Fault, fault
from tests.sheet_marks.plane import box_touches, boxes_overlap, grown, pieces
from tests.sheet_marks.written_sheet import WrittenSheet

LEAST = 3.0 - 0.01  # mm, less what rounding takes
CLEAR = 0.5


def judge(sheet: WrittenSheet, practice: str) -> Iterator[Fault]:
    """Everything about lettering."""
    heights: dict[float, list[str]] = {}
    places = {}
    for text in sheet.texts:
        if text.height < LEAST:
            heights.setdefault(round(text.height, 2), []).append(text.text)
            places.setdefault(round(text.height, 2), text.middle)
    for height, some in sorted(heights.items()):
        yield fault("lettering", places[height], f"{len(some)} texts are {height} mm high, such as "
                                                 f"'{some[0]}'")
    yield from touched(sheet)
    yield from turned(sheet, practice)


def turned(sheet: WrittenSheet, practice: str) -> Iterator[Fault]:
    """Lettering is read from below or from the right (ISO 129-1, from memory), by ASME from below.

    ASME Y14.5M-1994, 1.5.1: unidirectional.
    """
    for text in sheet.texts:
        u = text.box[1] - text.box[0]
        angle = math.degrees(math.atan2(u[1], u[0]))
        if (practice == "ASME" and abs(angle) > 0.1) or not -89.9 < angle < 90.1:
            yield fault("text-turned", text.middle, f"'{text.text}' is turned by {angle:.1f}°")


def touched(sheet: WrittenSheet) -> Iterator[Fault]:
    """Strokes, arrowheads and other lettering that come too near a text."""
    strokes = list(sheet.strokes)
    rows, number = pieces(strokes)
    heads = [np.hstack([a.corners, np.roll(a.corners, -1, axis=0)]) for a in sheet.arrows]
    for text in sheet.texts:
        for k in np.unique(number[box_touches(text.box, CLEAR, rows)]):
            stroke = strokes[k]
            yield fault("text-on-line", text.middle, f"'{text.text}' ({text.source}) touches "
                                                     f"{stroke.kind} of {stroke.source}")
        for arrow, head in zip(sheet.arrows, heads, strict=True):
            margin = 0.1 if arrow.source == text.source else CLEAR
            if box_touches(text.box, margin, head).any():
                yield fault("text-on-line", text.middle, f"'{text.text}' ({text.source}) touches "
                                                         f"an arrowhead of {arrow.source}")
    boxes = np.array([[*t.box.min(axis=0), *t.box.max(axis=0)] for t in sheet.texts])
    for n, text in enumerate(sheet.texts):
        near = np.flatnonzero((boxes[:n, :2] <= boxes[n, 2:] + CLEAR).all(axis=1)
                              & (boxes[:n, 2:] >= boxes[n, :2] - CLEAR).all(axis=1))
        for k in near:
            other = sheet.texts[k]
            margin = 0.0 if other.source == text.source else CLEAR
            if boxes_overlap(grown(text.box, 0.5 * margin), grown(other.box, 0.5 * margin)):
                yield fault("text-on-line", text.middle, f"'{text.text}' ({text.source}) touches "
                                                         f"'{other.text}' ({other.source})")
