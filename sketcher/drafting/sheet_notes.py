"""The notes of a drawing: the part's own and the usual cautions."""

from __future__ import annotations

from sketcher.drafting.primitives import Item
from sketcher.drafting.sheet_frame import Sheet
from sketcher.drafting.sheet_tables import draw_paragraphs
from sketcher.part.value import Part

CAUTIONS = (
    "Remove burrs and sharp edges. Cut edges can be hot and sharp: wear gloves and eye protection,"
    " and follow the cutter's instructions.",
    "If the part carries a load, have its strength checked by a licensed engineer against the local"
    " codes.",
)
NOTE_HEIGHT = 2.5


def notes_above(sheet: Sheet) -> bool:
    """On a narrow sheet the notes stand above the title block, else to its left."""
    return sheet.block[0] - sheet.inner[0] < 70.0


def notes_of(part: Part, sheet: Sheet) -> tuple[list[Item], float]:
    """Notes below their upper left corner at the origin, and the height that they take."""
    left = sheet.inner[0]
    width = (sheet.inner[2] if notes_above(sheet) else sheet.block[0]) - left - 8.0
    items, height = draw_paragraphs((*part.notes, *CAUTIONS), (4.0, -3.0), width, NOTE_HEIGHT,
                                    "sheet:notes", numbered=True)
    return items, height + 4.0
