"""The sheet of a hand-in that could not be graded: why, and what it looks like beside the key."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sketcher.drafting.page import Page
from sketcher.drafting.paper_sizes import sheets
from sketcher.marking.deduction_table import by_hand_texts, total_text
from sketcher.marking.marked_picture import PictureBlock, pictured
from sketcher.marking.marked_view import MarkedView, key_view
from sketcher.marking.marks import Marks
from sketcher.marking.report_page import (
    PAPER,
    PageHeading,
    Paragraphs,
    PouredBlock,
    page_room,
    poured_pages,
)
from sketcher.part.value import Part

TALL = 92.0  # of a picture in mm: two stand on a sheet


def ungraded_pages(
    key: Part, marks: Marks, label: str, shown: MarkedView | None
) -> tuple[Page, ...]:
    """Return the pages of a hand-in without points.

    Parameters
    ----------
    key : Part
        Solved.
    marks : Marks
        Its `ungraded` says why.
    label : str
        What it is called: a number, or a name where that is asked for.
    shown : MarkedView or None
        What a picture of the hand-in shows; None where nothing was read.
    """
    sheet = sheets()[PAPER[key.drawing.practice]]
    left, _, right, _ = page_room(sheet)
    wide = right - left
    blocks: list[PouredBlock] = [Paragraphs(
        ("Not graded", f"{marks.ungraded[:1].upper()}{marks.ungraded[1:]}.",
         *by_hand_texts(marks),
         *(f"In reading the file: {told}." for told in marks.told)), wide, "why", bold=True)]
    if shown is not None:
        blocks += _picture("The hand-in as its file has it", shown, wide)
    blocks += _picture("The key", key_view(key), wide)
    result = total_text(marks) if marks.has_points else "not graded"
    heading = PageHeading(label, key.name, result, "by hand" if marks.has_points else "")
    return poured_pages(sheet, heading, blocks, f"{key.name}: {label}", "marked")


def _picture(title: str, shown: MarkedView, wide: float) -> Iterator[PouredBlock]:
    yield Paragraphs((title,), wide, "title", bold=True)
    yield PictureBlock(replace(pictured(shown, ()), alone=True), wide, TALL)
