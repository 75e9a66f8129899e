"""The construction order as numbered steps, in columns."""

from __future__ import annotations

from sketcher.drafting.lettering import text_width, wrapped
from sketcher.drafting.page_kind import EDGE, Asked, PageKind
from sketcher.drafting.primitives import Item, Text

STEP = 1.7
COLUMN = 170.0  # least width of a column of steps


def columns(asked: Asked) -> list[list[Item]]:
    """Return the body of each page."""
    from sketcher.lesson.order import construction_order

    part, sheet = asked.part, asked.sheet
    height, large = sheet.height, sheet.large
    left, _, right, top = sheet.inner
    indent = text_width("000. ", height)
    count = max(1, int((right - left) / COLUMN))
    pitch = (right - left - EDGE) / count
    first, lowest = top - 2.0 * EDGE - large, sheet.block[3] + EDGE
    bodies: list[list[Item]] = []
    column, at = count, lowest  # full, so that the first step opens a page
    for step in construction_order(part):
        lines = wrapped(asked.said(step.text), height, pitch - EDGE - indent)
        if at - STEP * height * len(lines) < lowest:
            column, at = column + 1, first
            if column >= count:
                heading = "Construction order" if not bodies else "Construction order, continued"
                bodies.append([Text(asked.said(heading), (left + EDGE, top - EDGE - large), large,
                                    "sheet:order")])
                column = 0
        x = left + EDGE + column * pitch
        bodies[-1].append(Text(f"{step.number}.", (x, at - height), height, "sheet:order"))
        for text in lines:
            bodies[-1].append(Text(text, (x + indent, at - height), height, "sheet:order"))
            at -= STEP * height
    return bodies


PAGE = PageKind("construction order", 20, lambda part: part.drawing.order_page, columns)
