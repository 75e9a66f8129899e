"""The picture of an intake: the drawing as received with its repairs, beside the part's sheet.

On the left the lines of the file are thin and what was repaired is bold, in a ring with its number;
below stands what each number is. On the right stands the sheet of the bound part.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sketcher.drafting.page import Page
from sketcher.drafting.paper_view import View
from sketcher.drafting.primitives import Item, Stroke, Text, line, shifted
from sketcher.drafting.sheet import pages
from sketcher.errors import SketcherError
from sketcher.geometry.bounds import bounds_of
from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.intake.drawn_lines import drawn_lines
from sketcher.intake.free_curves import as_drawn
from sketcher.intake.intake_report import LEAST_TOLD
from sketcher.intake.linework import Repair
from sketcher.intake.repair_marks import repair_marks
from sketcher.intake.taken import Taken, TakenPart
from sketcher.intake.wishes import Wishes

SIZE = (210.0, 297.0)
"""Where no sheet can be drawn, in mm."""
MARGIN, LETTERS, ROW = 15.0, 3.0, 5.0
COLUMN = 60.0
BOLD = ("double", "overlap", "chords", "curve")
"""Repairs of whole lines; of the others the ring shows the place."""
MOST_ROWS = 14
"""Of a column of the list below the drawing."""


def before_and_after(taken: Taken, wishes: Wishes) -> tuple[Page, ...]:
    """Return a page for each part; one of the drawing alone where there is no part to draw."""
    found = tuple(_page(taken, part, wishes) for part in taken.parts)
    return found or (_page(taken, None, wishes),)


def _page(taken: Taken, part: TakenPart | None, wishes: Wishes) -> Page:
    after = _sheet(part)
    width, height = after.size if after else SIZE
    items: list[Item] = list(_before(taken, wishes, (width, height)))
    title = part.part.name if part else taken.content.source
    if after is None:
        return Page("intake", (width, height), "ISO", tuple(items), title=title)
    items.append(line((width, 0.0), (width, height), "dimension", "sheet:fold"))
    items += [shifted(item, width, 0.0) for item in after.all_items()]
    return Page("intake", (2.0 * width, height), after.practice, tuple(items),
                unit=after.unit, title=title)


def _sheet(part: TakenPart | None) -> Page | None:
    if part is None:
        return None
    try:
        return pages(part.part)[0]
    except SketcherError:  # no outline, or one that fits on no sheet
        return None


def _before(taken: Taken, wishes: Wishes, size: tuple[float, float]) -> Iterator[Item]:
    """Yield the drawing as received, its repairs and their list, on the left of a page."""
    width, height = size
    lines = drawn_lines(taken.content, taken.unit, wishes)
    curves = [each.curve for each in as_drawn(lines, wishes) if _shown(each.curve)]
    columns = max(1, int((width - 2.0 * MARGIN) // COLUMN))
    rows = min(MOST_ROWS, -(-len(taken.repairs) // columns))
    low = MARGIN + ROW * (rows + 1)
    yield Text(f"{taken.content.source}, as received", (MARGIN, height - MARGIN), 1.5 * LETTERS,
               "sheet:title")
    if curves:
        room = (MARGIN + 3.0 * LETTERS, low + 3.0 * LETTERS, width - MARGIN - 3.0 * LETTERS,
                height - MARGIN - 6.0 * LETTERS)
        view = _view(curves, room)
        for curve in curves:
            yield Stroke(view.curve(curve), "dimension", "file:line")
        yield from _marks(taken.repairs, curves, view)
    yield from _list(taken.repairs, columns, rows, low)


def _shown(curve: Curve) -> bool:
    return isinstance(curve, Line | Arc | Circle) and curve.length > 0.0


def _view(curves: Sequence[Curve], room: tuple[float, float, float, float]) -> View:
    """Return the view that lays all curves as large as possible in the middle of a room."""
    x0, y0, x1, y1 = bounds_of(curves)
    factor = min((room[2] - room[0]) / max(x1 - x0, 1e-12),
                 (room[3] - room[1]) / max(y1 - y0, 1e-12))
    return View(factor, 0.5 * (room[0] + room[2] - factor * (x0 + x1)),
                0.5 * (room[1] + room[3] - factor * (y0 + y1)))


def _marks(repairs: Sequence[Repair], curves: Sequence[Curve], view: View) -> Iterator[Item]:
    for repair in repairs:
        for curve in repair.before if repair.kind in BOLD else ():
            if _shown(curve):
                yield Stroke(view.curve(curve), "visible", f"repair:{repair.name}")
    for mark in repair_marks(repairs, LETTERS / view.factor, curves):
        name = f"repair:{repairs[mark.numbers[0] - 1].name}"
        yield Stroke(Circle(view.point(mark.at), view.factor * mark.radius), "leader", name)
        x, y = view.point(mark.label_at)
        yield Text(mark.label, (x, y - 0.5 * LETTERS), LETTERS, name, anchor="center")


def _list(repairs: Sequence[Repair], columns: int, rows: int, top: float) -> Iterator[Item]:
    """Yield a line for each repair, down the columns; what does not fit is counted."""
    room = columns * rows
    shown = repairs if len(repairs) <= room else repairs[:room - 1]
    for index, repair in enumerate(shown):
        moved = f" {repair.size:.2g}" if repair.size > LEAST_TOLD else ""
        kept = "" if repair.taken else ", kept"
        yield Text(f"{index + 1}  {repair.kind}{moved}{kept}", _place(index, rows, top), LETTERS,
                   f"repair:{repair.name}")
    if len(shown) < len(repairs):
        yield Text(f"and {len(repairs) - len(shown)} more", _place(room - 1, rows, top), LETTERS,
                   "sheet:more")


def _place(index: int, rows: int, top: float) -> tuple[float, float]:
    column, row = divmod(index, rows)
    return (MARGIN + COLUMN * column, top - ROW * (row + 1))
