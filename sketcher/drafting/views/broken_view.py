"""Breaks of long parts: a stretch without features is left out, so that the rest can be larger.

ISO 128-3 (interrupted views) and ASME Y14.3 (conventional breaks), from memory: the two ends are
drawn near each other, each ended by a narrow line with a zigzag; dimensions keep their true value
and dimension lines run on unbroken.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from sketcher.drafting.measured import Measured, MeasuredAngle, MeasuredLength, measured
from sketcher.drafting.paper_view import Cut, View
from sketcher.drafting.primitives import Stroke, polyline
from sketcher.geometry.bounds import bounds, bounds_of
from sketcher.geometry.curves import XY, Curve, Line
from sketcher.geometry.evaluate import end_of, start_of
from sketcher.part.value import Part
from sketcher.part.whole import Piece

GAP = 3.0  # mm on paper between the two break lines: common practice, no source
STUB = 15.0  # mm of part left on paper between a feature and a break, a guess
WORTH = 30.0  # mm on paper: a break that saves less is not worth it
PAST, ZIG, HALF = 3.0, 4.0, 1.2
"""How far a break line runs past the outline, how high its zigzag is and how far it leans out, in
mm: common practice, no source."""
LEAST_ASPECT = 4.0  # of a long part: length by width
LEVEL = 1e-9  # sine up to which a line runs along


@dataclass(frozen=True, slots=True)
class Breaks:
    """What is asked of a long part to know where it can be broken at any scale."""

    pieces: Sequence[Piece]
    points: Sequence[XY]
    measures: Sequence[Measured]

    def cuts(self, factor: float) -> tuple[Cut, ...]:
        """Return the stretches left out, `factor` mm on paper for one unit of the part."""
        return cuts_of(self.pieces, self.points, self.measures, factor)

    def size(self, factor: float) -> XY:
        """Return width and height on paper of what is left, in mm; whole where nothing is cut."""
        view = View(factor, cuts=self.cuts(factor))
        box = bounds_of(p.curve for p in self.pieces if p.role == "outline")
        (x0, y0), (x1, y1) = view.point(box[:2]), view.point(box[2:])
        return (x1 - x0, y1 - y0)


def breaks_of(
    part: Part, pieces: Sequence[Piece], measures: Sequence[Measured] | None = None
) -> Breaks | None:
    """Return how a part can be broken; None where it is not long, or shall not be.

    What is dimensioned is read from the part unless `measures` are given.
    """
    if part.drawing.breaks == "off" or not is_long(pieces):
        return None
    used = {name for curve in part.curves.values() for name in curve.points}
    measures = measured(part, View()) if measures is None else measures
    return Breaks(pieces, [part.points[name] for name in used], measures)


def is_long(pieces: Iterable[Piece]) -> bool:
    """Tell whether a part is so long for its width that it may be drawn broken."""
    x0, y0, x1, y1 = bounds_of(p.curve for p in pieces if p.role == "outline")
    short, far = sorted((x1 - x0, y1 - y0))
    return far > LEAST_ASPECT * short > 0.0


def cuts_of(
    pieces: Sequence[Piece], points: Iterable[XY], measures: Sequence[Measured], factor: float
) -> tuple[Cut, ...]:
    """Return the stretches that a long part can be drawn without; none where it has none.

    Parameters
    ----------
    pieces : sequence of Piece
        What the sheet shows, with its layout.
    points : iterable of XY
        Further places that dimensions may start from.
    measures : sequence of Measured
        What is dimensioned, as a view at the scale 1 about the origin has it: lengths at a slant
        and angles must not reach across a break.
    factor : float
        Millimetres on paper for one unit of the part.
    """
    box = bounds_of(p.curve for p in pieces if p.role == "outline")
    along = 0 if box[2] - box[0] >= box[3] - box[1] else 1
    taken = [_span(p.curve, along) for p in pieces if not _runs_along(p.curve, along)]
    taken += [(at[along], at[along]) for at in points]
    taken += [(at, at) for p in pieces for at in _span(p.curve, along)]
    taken += [span for one in measures if (span := _held(one, along)) is not None]
    stub = max(STUB, 0.5 * factor * (box[3 - along] - box[1 - along])) / factor
    found: list[Cut] = []
    reached = box[along]
    for low, high in sorted(taken):
        start, end = reached + stub, min(low, box[along + 2]) - stub
        if factor * (end - start) - GAP > WORTH:
            found.append(Cut(along, start, end, GAP))
        reached = max(reached, high)
    return tuple(found)


def _span(curve: Curve, along: int) -> tuple[float, float]:
    box = bounds(curve)
    return (box[along], box[along + 2])


def _runs_along(curve: Curve, along: int) -> bool:
    return isinstance(curve, Line) and abs(curve.direction[1 - along]) < LEVEL


def _held(one: Measured, along: int) -> tuple[float, float] | None:
    """Return the stretch that must stay whole for what a dimension says to be seen."""
    if isinstance(one, MeasuredLength):
        if min(map(abs, one.direction)) < LEVEL:
            return None
        at = [p[along] for p in (*one.first, *one.second)]
    elif isinstance(one, MeasuredAngle):
        at = [wedge.vertex[along] for wedge in one.options]
    else:
        return _span(one.curve, along)
    return (min(at), max(at))


def broken(stroke: Stroke, view: View) -> Iterator[Stroke]:
    """Give what is left of a stroke of the outline beside the gaps of a view."""
    parts = [stroke.curve]
    for along, low, high in view.gaps():
        parts = [rest for part in parts for rest in _beside(part, along, low, high)]
    for part in parts:
        yield stroke if part is stroke.curve else Stroke(part, stroke.line, stroke.source)


def _beside(curve: Curve, along: int, low: float, high: float) -> Iterator[Curve]:
    if not isinstance(curve, Line) or not _spans(curve, along, low, high):
        yield curve
        return
    (start, end), across = (start_of(curve), end_of(curve)), curve.start[1 - along]
    first, second = (low, high) if start[along] < end[along] else (high, low)
    yield Line(start, (first, across) if along == 0 else (across, first))
    yield Line((second, across) if along == 0 else (across, second), end)


def _spans(curve: Curve, along: int, low: float, high: float) -> bool:
    ends = _span(curve, along)
    return ends[0] < low + 1e-6 and ends[1] > high - 1e-6


def break_lines(outline: Sequence[Stroke], view: View) -> list[Stroke]:
    """Return the break lines at both sides of each gap, from the outline before it is broken."""
    found: list[Stroke] = []
    for along, low, high in view.gaps():
        across = sorted(s.curve.start[1 - along] for s in outline
                        if isinstance(s.curve, Line) and _spans(s.curve, along, low, high))
        for at in (low, high):
            for one, other in zip(across[::2], across[1::2], strict=False):
                found += _zigzag(along, at, one, other)
    return found


def _zigzag(along: int, at: float, low: float, high: float) -> list[Stroke]:
    """Return a break line across the part; its zigzag keeps off the middle, where the axis is."""
    zig = min(ZIG, 0.3 * (high - low))
    middle = low + 0.25 * (high - low)
    half = min(HALF, 0.3 * zig)
    rail = [(at, low - PAST), (at, middle - 0.5 * zig), (at + half, middle - 0.15 * zig),
            (at - half, middle + 0.15 * zig), (at, middle + 0.5 * zig), (at, high + PAST)]
    return polyline(rail if along == 0 else [(y, x) for x, y in rail], "break", "view:break")
