"""The marked sheet of one hand-in: picture with ringed numbers, table of deductions, points."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import log2

from sketcher.drafting.line_classes import Practice
from sketcher.drafting.page import Page
from sketcher.drafting.paper_sizes import Sheet, sheets
from sketcher.drafting.paper_view import MM_PER
from sketcher.geometry.bounds import Box
from sketcher.geometry.curves import XY
from sketcher.marking.deduction_table import (
    deduction_rows,
    notes_of,
    points_text,
    total_text,
)
from sketcher.marking.enlarged_circles import CloseUp, CloseUpRows, close_ups
from sketcher.marking.marked_picture import Pictured, pictured
from sketcher.marking.marked_view import MarkedView
from sketcher.marking.marks import Marks
from sketcher.marking.report_page import (
    GAP,
    PageHeading,
    Paragraphs,
    PouredBlock,
    framed_pages,
    page_room,
    poured,
    poured_items,
)

PAPERS: Mapping[Practice, tuple[tuple[str, ...], ...]] = {
    "ISO": (("A4", "A4 lying"), ("A3", "A3 upright")),
    "ASME": (("A upright", "A"), ("B", "B upright"))}
"""Sheets that a hand-in is shown on, those tried first that every printer takes."""
BESIDE = 0.42  # share of a lying sheet's width that the table takes
BELOW = (0.5, 0.62)  # shares of an upright sheet's height that the table may take
STRIP = 0.45  # share of the picture's height that close-ups may take
SMALLEST = 0.5  # scale below which the larger paper is looked at
PAGE_COST = 0.8
"""What a page more counts beside a picture half as large (a guess)."""


def sheet_of_view(shown: MarkedView, marks: Marks, label: str) -> tuple[Page, ...]:
    """Return the pages of a marked hand-in, of what a picture of it shows.

    Parameters
    ----------
    shown : MarkedView
    marks : Marks
        What it is given; deductions that a person waived are left out.
    label : str
        What it is called: a number, or a name where that is asked for.
    """
    picture = pictured(shown, marks.kept)
    plans: list[_Plan] = []
    for same in PAPERS[shown.practice]:
        for name in same:
            plans += _plans(sheets()[name], picture, marks)
        if max(plan.factor for plan in plans) >= SMALLEST * MM_PER[shown.unit]:
            break
    largest = max(plan.factor for plan in plans)
    best = min(plans, key=lambda plan: (
        PAGE_COST * len(plan.further) + log2(largest / plan.factor), plan.sheet.size[0]))
    return _pages(best, picture, _heading(shown, marks, label))


def _lies(sheet: Sheet) -> bool:
    return sheet.size[0] > sheet.size[1]


def _heading(shown: MarkedView, marks: Marks, label: str) -> PageHeading:
    lost = sum(each.points for each in marks.kept) - marks.given
    below = (f"{points_text(lost)} taken off" if lost > 0.0 else
             f"{points_text(-lost)} given" if lost else "nothing taken off")
    return PageHeading(label, shown.name, total_text(marks), below)


@dataclass(frozen=True, slots=True)
class _Plan:
    """How the first page is parted on one sheet, and what further pages hold.

    Close-ups stand within the picture where there is room for all, else below it; `beside` says at
    which corner each block stands.
    """

    sheet: Sheet
    factor: float
    room: Box
    insets: tuple[tuple[CloseUp, XY], ...]
    beside: tuple[tuple[PouredBlock, XY], ...]
    further: tuple[tuple[tuple[PouredBlock, float], ...], ...]


def _plans(sheet: Sheet, picture: Pictured, marks: Marks) -> Iterator[_Plan]:
    """Give the plans for a sheet: the table beside the picture of a lying one, else below it."""
    left, low, right, high = page_room(sheet)
    lying = _lies(sheet)
    wide = BESIDE * (right - left) if lying else right - left
    blocks = told_below(picture.shown, marks, wide)
    need = sum(block.height + GAP for block in blocks)
    heights = [high - low] if lying else [min(need, share * (high - low)) for share in BELOW]
    for tall in dict.fromkeys(heights):  # one for a table lower than both shares
        yield _plan(sheet, picture, marks, blocks, (wide, tall))


def _plan(
    sheet: Sheet, picture: Pictured, marks: Marks, blocks: Sequence[PouredBlock],
    size: tuple[float, float],
) -> _Plan:
    """Return the plan for a sheet whose first page gives the table a width and a height in mm."""
    left, low, right, high = page_room(sheet)
    lying, (wide, tall) = _lies(sheet), size
    room = (left, low, right - wide - GAP, high) if lying else (left, low + tall, right, high)
    factor = picture.factor(room)
    close = close_ups(picture.shown, marks.kept, factor)
    insets = picture.insets(room, factor, close)
    first: list[tuple[PouredBlock, XY]] = []
    rest: list[PouredBlock] = []
    if len(insets) < len(close):
        rows = CloseUpRows(close, picture.shown, room[2] - room[0])
        some, more = rows.cut(STRIP * (room[3] - room[1]))
        first.append((some, (room[0], room[1] + some.height)))
        rest = [more] if more is not None else []
        room = (room[0], room[1] + some.height, room[2], room[3])
        factor = picture.factor(room)
    onward, *further = poured(blocks, tall, high - low)
    top = high if lying else low + tall
    first += [(block, (right - wide, top - down)) for block, down in onward]
    after = [block for page in further for block, _ in page]
    pages = poured([*after, *rest], high - low, high - low) if after or rest else []
    return _Plan(sheet, factor, room, tuple(zip(close, insets, strict=False)), tuple(first),
                 tuple(map(tuple, pages)))


def told_below(shown: MarkedView, marks: Marks, width: float) -> list[PouredBlock]:
    """Return what stands beside or below a picture."""
    table: PouredBlock = (deduction_rows(marks, width) if marks.kept or marks.by_hand else
                    Paragraphs(("Nothing to take off.",), width, "deductions", bold=True))
    notes = notes_of(shown, marks)
    return [table, Paragraphs(notes, width, "notes")] if notes else [table]


def _pages(plan: _Plan, picture: Pictured, heading: PageHeading) -> tuple[Page, ...]:
    first = [*picture.draw(plan.room, plan.factor, plan.insets),
             *(item for block, corner in plan.beside for item in block.draw(corner))]
    bodies = [first, *(poured_items(plan.sheet, page) for page in plan.further)]
    return framed_pages(plan.sheet, heading, bodies, f"{picture.shown.name}: {heading.title}",
                        "marked")
