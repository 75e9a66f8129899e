"""The table of holes: a letter beside each hole, its place from a marked zero, and its size.

With the table the holes are dimensioned in it and not on the view. Tables of coordinates from a
named zero are usual on drawings with many holes (ASME Y14.5, rectangular coordinate dimensioning in
tabular form; from memory).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import cos, dist, radians, sin

import numpy as np

from sketcher.drafting.dimension_text import times
from sketcher.drafting.features import shown_pieces
from sketcher.drafting.hole_list import Hole, holes_of, table_axes
from sketcher.drafting.hole_notes import hole_note
from sketcher.drafting.layout.ink import Batch, Standing
from sketcher.drafting.layout.paper_ground import Ground
from sketcher.drafting.layout.shapes import boxes_of
from sketcher.drafting.measured import MeasuredRound, measured
from sketcher.drafting.paper_view import MM_PER, View
from sketcher.drafting.primitives import Stroke, Text
from sketcher.drafting.sheet_tables import Table
from sketcher.drafting.table_axes import TableAxes
from sketcher.geometry.curves import XY, Circle, Line
from sketcher.inspect.drilled_holes import DrilledHoles
from sketcher.part.printed import in_fractions, length_number
from sketcher.part.value import Part
from sketcher.part.whole import Piece
from sketcher.quantity.format import angle

MOST = (16.0, 30.0, 30.0, 60.0, 20.0)
TITLES = ("hole", "X", "Y", "size", "count")
ZERO = "X0 Y0"
RING = 1.5
"""Radius in mm of the ring around the zero: common practice, no source."""

X_WAY = "X"
ARROW, BARB, BARB_SLOPE = 10.0, 2.5, 1.0 / 3.0
"""Length in mm of the arrow that shows which way X runs where it is not level, and its barbs
(common practice, no source)."""

_last: tuple[Part, tuple[TableHole, ...]] | None = None


@dataclass(frozen=True, slots=True)
class TableHole:
    """A hole by its name in the table: place from the zero, and its size as the sheet says it."""

    name: str
    hole: Hole
    at: XY
    size: str
    count: int


def table_holes(part: Part) -> tuple[TableHole, ...]:
    """Return the holes of the sheet's table.

    Equal ones share a letter and are numbered from the lower left; the first of a letter carries
    the count.
    """
    global _last
    last = _last  # another thread may put its own part there
    if last is not None and last[0] is part:
        return last[1]
    pieces = shown_pieces(part, alone=True)
    every = holes_of(pieces)
    found = tuple(named_holes(part, [every], table_axes(part, pieces, every)))
    _last = (part, found)
    return found


def named_holes(
    part: Part, holes: Iterable[Sequence[Hole]], axes: TableAxes
) -> Iterator[TableHole]:
    """Give the holes their names, by letters.

    Parameters
    ----------
    part : Part
    holes : iterable of sequence of Hole
        Those that have the first letters and numbers come first: of a sheet that shows the half,
        the ones on it.
    axes : TableAxes
        From where they are measured.
    """
    sizes = _Sizes(part, axes)
    alike: dict[str, list[Hole]] = {}
    for some in holes:
        new: dict[str, list[Hole]] = {}
        for hole in sorted(some, key=lambda h: (bool(h.length), -h.width, -h.length)):
            new.setdefault(sizes.of(hole), []).append(hole)
        for size, same in new.items():
            same.sort(key=lambda h: (round(h.at[1], 6), round(h.at[0], 6)))
            alike.setdefault(size, []).extend(same)
    for number, (size, same) in enumerate(alike.items()):
        for k, hole in enumerate(same, 1):
            yield TableHole(f"{letters(number)}{k}", hole, axes.place(hole.at), size,
                            len(same) if k == 1 else 0)


class _Sizes:
    """What the sheet says of the size of a hole: as it was typed, with its tolerance."""

    def __init__(self, part: Part, axes: TableAxes) -> None:
        self.part, self.axes = part, axes
        cut_by = part.drawing.cut_by
        self._drilled = DrilledHoles(part, cut_by) if cut_by else None
        bare = replace(part.drawing, hole_table=False, balloons=False, inspection_page=False)
        view = View(MM_PER[part.unit])
        self._said: list[tuple[tuple[XY, ...], float, str]] = []
        for one in measured(part.having(drawing=bare), view):
            if isinstance(one, MeasuredRound) and one.diameter:
                rounds = (one.curve, *one.images)
                text = replace(one.wording, tail="").plain
                head, _, rest = text.partition(" ")
                if head[-1:] in "xX" and head[:-1].isdigit():
                    text = rest
                self._said.append((tuple(view.back(c.center) for c in rounds),
                                   2.0 * one.curve.radius / view.factor, text))

    def of(self, hole: Hole) -> str:
        """Return the size of a hole; of a slot its width, its length and how it is turned."""
        if hole.length:
            turned = self.axes.angle(hole.angle) % 180.0
            turn = f" at {angle(turned)}" if turned else ""
            return f"{said(self.part, hole.width)} x {said(self.part, hole.length)}{turn}"
        near = 1e-6 * max(1.0, hole.width)
        fitting = [(centers, text) for centers, size, text in self._said
                   if abs(size - hole.width) < near]
        own = [text for centers, text in fitting if any(dist(c, hole.at) < near for c in centers)]
        texts = own or [text for _, text in fitting] or [f"Ø{said(self.part, hole.width)}"]
        notes = {hole_note(self.part, self._drilled, name) for name in sorted(hole.sources)}
        return " ".join((texts[0], *sorted(filter(None, notes))))


def said(part: Part, value: float) -> str:
    """Return a length as the drawing's other numbers are: a fraction where those are, and it is."""
    whole = "1/2" if part.unit == "in" and in_fractions(part) else ""
    text = length_number(abs(value) + 0.0, part.unit, whole).text
    return f"-{text}" if value < 0.0 and text.strip("0.") else text


def letters(number: int) -> str:
    """Return letters that count from 0, those of a size or a column: A to Z, AA, AB ..."""
    return (letters(number // 26 - 1) if number >= 26 else "") + chr(ord("A") + number % 26)


def hole_table(part: Part) -> Table:
    """Return the table of holes; X and Y run from the zero that is marked on the view."""
    practice = part.drawing.practice
    rows = tuple((one.name, said(part, one.at[0]), said(part, one.at[1]), one.size,
                  times(one.count, practice).strip()) for one in table_holes(part))
    return Table(TITLES, rows, MOST)


def zero_mark(part: Part, view: View) -> list[Stroke]:
    """Return the ring around the zero of the table, and an arrow along an X that is not level.

    The center of a hole is marked already.
    """
    axes = drawn_axes(part)
    zero, around = view.point(axes.zero), _hole_at_zero(part)
    found: list[Stroke] = []
    if not around:
        found.append(Stroke(Circle(zero, RING), "dimension", "hole:zero"))
    if axes.turn:
        (ux, uy), start, tip = axes.along, *_arrow(axes, view, around)
        barbs = [Line(tip, (tip[0] - BARB * (ux + side * BARB_SLOPE * uy),
                            tip[1] - BARB * (uy - side * BARB_SLOPE * ux))) for side in (1, -1)]
        found += [Stroke(line, "dimension", "hole:along") for line in (Line(start, tip), *barbs)]
    return found


def _hole_at_zero(part: Part) -> float:
    """Return the width of the widest hole whose center is the zero, 0 where there is none."""
    return max((one.hole.width for one in table_holes(part)
                if dist(one.at, (0.0, 0.0)) < 1e-6 * max(1.0, one.hole.width)), default=0.0)


def _arrow(axes: TableAxes, view: View, around: float) -> tuple[XY, XY]:
    """Return where the arrow along X begins and ends on paper: outside of a hole at the zero."""
    (x, y), (ux, uy) = view.point(axes.zero), axes.along
    begin = max(RING, 0.5 * around * view.factor + RING if around else 0.0)
    end = begin + ARROW
    return (x + begin * ux, y + begin * uy), (x + end * ux, y + end * uy)


def drawn_axes(part: Part) -> TableAxes:
    """Return the axes of the table of holes on the sheet of a part."""
    pieces = shown_pieces(part, alone=True)
    return table_axes(part, pieces, holes_of(pieces))


def hole_labels(
    part: Part, view: View, pieces: Sequence[Piece], height: float, ground: Ground
) -> list[Text]:
    """Return a label beside each hole among the pieces and the zero, clear of other lines."""
    there = {hole.at for hole in holes_of(pieces)}
    axes = drawn_axes(part)
    around = _hole_at_zero(part)
    wanted = [(ZERO, view.point(axes.zero), 0.5 * around * view.factor or RING)]
    if axes.turn:
        wanted.append((X_WAY, _arrow(axes, view, around)[1], 0.0))
    wanted += [(one.name, view.point(one.hole.at), 0.5 * one.hole.width * view.factor)
               for one in table_holes(part) if one.hole.at in there]
    standing = Standing([0] * len(wanted))
    found: list[Text] = []
    for number, (name, at, radius) in enumerate(wanted):
        spots = list(_spots(name, at, radius, height))
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
        for turn in (45.0, 135.0, 225.0, 315.0, 60.0, 30.0, 120.0, 150.0):
            c, s = cos(radians(turn)), sin(radians(turn))
            x, y = at[0] + (radius + away) * c, at[1] + (radius + away) * s
            yield away, Text(name, (x, y - (height if s < 0 else 0.0)), height, f"hole:{name}",
                             "left" if c > 0 else "right")
