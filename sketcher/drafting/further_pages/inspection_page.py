"""The inspection record: every dimension with its limits, and room for what is measured."""

from __future__ import annotations

from sketcher.drafting.page_kind import EDGE, Asked, PageKind
from sketcher.drafting.primitives import Item, Text
from sketcher.drafting.record import COLUMNS, cells, record
from sketcher.drafting.sheet_tables import Table, draw_table, rows_that_fit
from sketcher.quantity.units import UNIT_NAMES

MOST = (12.0, 34.0, 16.0, 34.0, 28.0, 26.0, 26.0, 28.0, 26.0, 20.0)  # widths of columns in mm
ROOM = COLUMNS.index("measured")
BLANK = 24.0  # room to write a measured value


def tables(asked: Asked) -> list[list[Item]]:
    """Return the body of each page."""
    part, sheet = asked.part, asked.sheet
    height, large = sheet.height, sheet.large
    rows = [cells(part, row) for row in record(part, asked.measured)]
    left, _, right, top = sheet.inner
    per_page = rows_that_fit(top - sheet.block[3] - 4.0 * EDGE - large, height)
    whole = Table(COLUMNS, tuple(rows), MOST).lettered(sheet.capitals)
    widths = whole.widths(height)
    widths[ROOM] = max(widths[ROOM], BLANK)
    shrink = min(1.0, (right - left - 2.0 * EDGE) / sum(widths))
    widths = [width * shrink for width in widths]
    unit = UNIT_NAMES[part.unit]
    bodies = []
    for start in range(0, max(len(rows), 1), per_page):
        table = Table(whole.titles, whole.rows[start:start + per_page], MOST)
        items, (_, tall) = draw_table(table, (left + EDGE, top - 2.0 * EDGE - large), height,
                                      "sheet:inspection", widths)
        bottom = top - 2.0 * EDGE - large - tall - EDGE
        items += [
            Text(asked.said("Inspection record"), (left + EDGE, top - EDGE - large), large,
                 "sheet:inspection"),
            Text(asked.said(f"Lengths in {unit}. Of a count the worst place. Measured by:"),
                 (left + EDGE, bottom), height, "sheet:inspection"),
        ]
        bodies.append(items)
    return bodies


PAGE = PageKind("inspection", 10, lambda part: part.drawing.inspection_page, tables)
