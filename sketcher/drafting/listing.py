"""Further pages: the inspection record as a table, the construction order as numbered steps."""

from __future__ import annotations

from collections.abc import Mapping

from sketcher.drafting.lettering import text_width, wrapped
from sketcher.drafting.primitives import Item, Text
from sketcher.drafting.record import COLUMNS, cells, record
from sketcher.drafting.sheet_frame import Sheet
from sketcher.drafting.sheet_tables import Table, draw_table, rows_that_fit
from sketcher.part.value import Part

HEIGHT, HEADING, STEP = 2.5, 5.0, 1.7
MOST = (14.0, 52.0, 24.0, 24.0, 24.0, 28.0, 24.0, 18.0)  # widths of the columns in mm
BLANK = 24.0  # room to write a measured value
EDGE = 6.0
COLUMN = 170.0  # least width of a column of steps


def inspection_tables(
    part: Part, sheet: Sheet, measured: Mapping[str, float] | None = None
) -> list[list[Item]]:
    """Return the body of each inspection page."""
    rows = [cells(part, row) for row in record(part, measured)]
    left, _, right, top = sheet.inner
    per_page = rows_that_fit(top - sheet.block[3] - 4.0 * EDGE - HEADING, HEIGHT)
    widths = Table(COLUMNS, tuple(rows), MOST).widths(HEIGHT)
    widths[6] = max(widths[6], BLANK)
    shrink = min(1.0, (right - left - 2.0 * EDGE) / sum(widths))
    widths = [width * shrink for width in widths]
    unit = "millimetres" if part.unit == "mm" else "inches"
    bodies = []
    for start in range(0, max(len(rows), 1), per_page):
        table = Table(COLUMNS, tuple(rows[start:start + per_page]), MOST)
        items, (_, tall) = draw_table(table, (left + EDGE, top - 2.0 * EDGE - HEADING), HEIGHT,
                                      "sheet:inspection", widths)
        bottom = top - 2.0 * EDGE - HEADING - tall - EDGE
        items += [
            Text("Inspection record", (left + EDGE, top - EDGE - HEADING), HEADING,
                 "sheet:inspection"),
            Text(f"Lengths in {unit}, angles in degrees. Measured by:", (left + EDGE, bottom),
                 HEIGHT, "sheet:inspection"),
        ]
        bodies.append(items)
    return bodies


def order_columns(part: Part, sheet: Sheet) -> list[list[Item]]:
    """Return the body of each page of the construction order."""
    from sketcher.solve.order import construction_order

    left, _, right, top = sheet.inner
    indent = text_width("000. ", HEIGHT)
    count = max(1, int((right - left) / COLUMN))
    pitch = (right - left - EDGE) / count
    first, lowest = top - 2.0 * EDGE - HEADING, sheet.block[3] + EDGE
    bodies: list[list[Item]] = []
    column, at = count, lowest  # full, so that the first step opens a page
    for step in construction_order(part):
        lines = wrapped(step.text, HEIGHT, pitch - EDGE - indent)
        if at - STEP * HEIGHT * len(lines) < lowest:
            column, at = column + 1, first
            if column >= count:
                heading = "Construction order" if not bodies else "Construction order, continued"
                bodies.append([Text(heading, (left + EDGE, top - EDGE - HEADING), HEADING,
                                    "sheet:order")])
                column = 0
        x = left + EDGE + column * pitch
        bodies[-1].append(Text(f"{step.number}.", (x, at - HEIGHT), HEIGHT, "sheet:order"))
        for text in lines:
            bodies[-1].append(Text(text, (x + indent, at - HEIGHT), HEIGHT, "sheet:order"))
            at -= STEP * HEIGHT
    return bodies
