"""The notes of a drawing: what it is read by, the part's own, and the usual cautions."""

from __future__ import annotations

from sketcher.drafting.lettering import lettered
from sketcher.drafting.paper_sizes import Sheet
from sketcher.drafting.primitives import Item, Text
from sketcher.drafting.sheet_tables import draw_paragraphs
from sketcher.drafting.unsaid import unsaid
from sketcher.part.value import Part

CAUTIONS = (
    "Remove burrs. Fresh edges are hot and sharp: wear gloves and eye protection; follow the"
    " cutter's instructions.",
    "If the part carries a load, have a licensed engineer check its strength by the local codes.",
)
READ_BY = "Dimensioning and tolerancing per ASME Y14.5-2018."
"""A drawing names the standard that it is to be read by (ASME Y14.5-2018, from memory)."""
HEADING = "Notes:"
NARROW = 40.0
EDGE = 4.0  # mm between frame and notes


def notes_above(sheet: Sheet) -> bool:
    """On a narrow sheet the notes stand above the title block, else to its left."""
    return sheet.block[0] - sheet.inner[0] < NARROW


def notes_of(part: Part, sheet: Sheet) -> tuple[list[Item], float]:
    """Return notes below their upper left corner at the origin, and the height that they take."""
    width = (sheet.inner[2] if notes_above(sheet) else sheet.block[0]) - sheet.inner[0] - 2.0 * EDGE
    said = (*([READ_BY] if sheet.practice == "ASME" else []), *unsaid(part).notes, *part.notes,
            *CAUTIONS)
    top = -0.75 * EDGE
    heading = Text(lettered(HEADING, sheet.capitals), (EDGE, top - sheet.height), sheet.height,
                   "sheet:notes")
    items, height = draw_paragraphs(
        [lettered(one, sheet.capitals) for one in said], (EDGE, top - 1.6 * sheet.height), width,
        sheet.height, "sheet:notes", numbered=True)
    return [heading, *items], height + 1.6 * sheet.height + EDGE
