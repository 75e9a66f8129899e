"""The sheets that a part's drawing may be put on, and where on them its views may lie."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import groupby

from sketcher.drafting.holes import hole_table
from sketcher.drafting.paper_sizes import (
    Sheet,
    checked_lettering,
    sheet_named,
    sheet_names,
    sheets,
)
from sketcher.drafting.sheet_notes import notes_above, notes_of
from sketcher.drafting.sheet_tables import draw_table
from sketcher.drafting.title_block import with_block
from sketcher.geometry.bounds import Box
from sketcher.part.value import Part

ROOM = 6.0  # clear space between view and frame, in mm


def sheets_for(part: Part) -> list[Sheet]:
    """Return the sheets that a drawing may be put on, smallest first, with its title block.

    Raises
    ------
    SketcherError
        For a sheet that the standard has not, and for lettering out of its range.
    """
    wanted = part.drawing
    names = (sheet_names(wanted.practice) if wanted.sheet == "auto"
             else [sheet_named(wanted.sheet, wanted.practice).name])
    return [with_block(part, _lettered(part, name)) for name in names]


def further_sheets(part: Part) -> list[list[Sheet]]:
    """Return the sheets for pages behind the drawing, the smallest first, those as large together.

    Upright ones come first: pages of text stand.
    """
    every = [with_block(part, _lettered(part, name), further=True)
             for name in sheet_names(part.drawing.practice)]
    return [sorted(same, key=lambda sheet: sheet.size[0]) for same in by_size(every)]


def by_size(some: Iterable[Sheet]) -> list[list[Sheet]]:
    """Return sheets, smallest first, those of one size together."""
    return [list(same) for _, same in groupby(some, key=lambda sheet: sheet.format)]


def _lettered(part: Part, name: str) -> Sheet:
    """Return a sheet with the height of lettering that the drawing wants."""
    height = part.drawing.lettering
    if height is None:
        return sheets()[name]
    return replace(sheets()[name], height=checked_lettering(height))


def free_area(part: Part, sheet: Sheet) -> Box:
    """Box that is free for the view: above title block and notes, beside the table of holes."""
    left, bottom, right, top = sheet.inner
    bottom = max(sheet.block[3], bottom + notes_of(part, sheet)[1])
    if notes_above(sheet):
        bottom = sheet.block[3] + notes_of(part, sheet)[1]
    if part.drawing.hole_table:
        table = hole_table(part).lettered(sheet.capitals)
        _, (wide, _) = draw_table(table, (0.0, 0.0), sheet.height, "")
        right -= wide + ROOM
    return (left + ROOM, bottom + ROOM, right - ROOM, top - ROOM)
