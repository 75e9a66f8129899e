"""The part itself against its outline on paper: scale and place are found from the box."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from sketcher.geometry.curves import Circle, Line
from sketcher.geometry.evaluate import point_at
from sketcher.part.value import Part
from sketcher.part.whole import whole
from tests.sheet_marks.deductions import Fault, fault
from tests.sheet_marks.plane import distances, pieces
from tests.sheet_marks.sheet_views import SheetView
from tests.sheet_marks.written_sheet import WrittenSheet
from tests.sheet_reader import Dash, arc

MM = {"mm": 1.0, "in": 25.4}
TRUE = 0.02  # mm on paper
BY_BREAK = 5.0  # mm beside a break that are not looked at
SMALL = 1.5  # mm: a feature that prints smaller cannot be read


def corners(part: Part) -> np.ndarray:
    """Places on the whole outline: ends of lines, 41 on an arc, four on a circle; shape (n, 2)."""
    found: list[Sequence[float]] = []
    for piece in whole(part):
        if piece.role != "outline":
            continue
        curve = piece.curve
        if isinstance(curve, Circle):
            (x, y), r = curve.center, curve.radius
            found += [(x + r, y), (x - r, y), (x, y + r), (x, y - r)]
        elif isinstance(curve, Line):
            found += [curve.start, curve.end]
        else:
            found += [point_at(curve, t) for t in np.linspace(0.0, 1.0, 41)]
    return np.array(found, float)


def factor_of(sheet: WrittenSheet, part: Part) -> float:
    """Millimetres on paper for one unit of the part: a least-squares fit of the boxes."""
    told = sheet.scale[1]
    if not math.isnan(told):
        return told * MM[part.unit]
    edges = np.concatenate([s.at for s in sheet.outline])
    true = corners(part)
    return float(np.ptp(edges, axis=0).max() / np.ptp(true, axis=0).max())


def rounds_of(part: Part, factor: float) -> list[Dash]:
    """All arcs and circles of the part, in mm on paper but where the part lies."""
    found = []
    for piece in whole(part):
        curve = piece.curve
        if piece.role != "outline" or isinstance(curve, Line):
            continue
        low, sweep = ((0.0, math.tau) if isinstance(curve, Circle)
                      else (curve.start_angle, curve.sweep))
        center = (factor * curve.center[0], factor * curve.center[1])
        found.append(arc("visible", center, factor * curve.radius, *sorted((low, low + sweep))))
    return found


def judge(view: SheetView, part: Part, factor: float) -> Iterator[Fault]:
    """Every place of the part's outline is on an edge of the view, or in a view of its own.

    What a break leaves out is not looked for, nor what a frame about a field of holes stands for.
    """
    sheet, cut = view.sheet, view.missing
    rows, _ = pieces(sheet.outline)
    true = factor * corners(part)
    ends = np.concatenate([s.at for s in sheet.outline])
    there = true + ends.min(axis=0) - true.min(axis=0)
    if cut is not None:
        s = there[:, cut.along]
        there = there[(s < cut.at - BY_BREAK) | (s > cut.at + cut.long + BY_BREAK)]
        there[there[:, cut.along] > cut.at, cut.along] -= cut.long
    fields = [s.at for s in sheet.strokes if s.source.startswith("pattern:")]
    if fields:
        box = np.concatenate(fields)
        there = there[~((there > box.min(axis=0)) & (there < box.max(axis=0))).all(axis=1)]
    wrong = [p for p in there if distances(rows, p).min() > TRUE + 0.01]
    if wrong:
        yield fault("outline-false", wrong[0], f"{len(wrong)} of {len(true)} places of the part "
                                               "are not on the drawn outline")


def too_small(view: SheetView) -> Iterator[Fault]:
    """Holes and edges that print smaller than can be read, and are not shown larger."""
    told: set[str] = set()
    for s in view.sheet.outline:
        if view.shown_larger(s.at.mean(axis=0), s.source):
            continue
        size = 2.0 * s.whole.radius if s.whole.center is not None else s.whole.length
        if size < SMALL:
            key = f"{s.source.rstrip('0123456789#')}{size:.2f}"
            if key not in told:
                told.add(key)
                yield fault("too-small", s.at[0], f"{s.source} prints {size:.2f} mm large")
