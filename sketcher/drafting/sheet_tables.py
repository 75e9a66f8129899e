"""Tables on the sheet: ruled columns of lettering, broken over pages where they are long."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sketcher.drafting.lettering import lettered, shortened, text_width, wrapped
from sketcher.drafting.primitives import Item, Text, line
from sketcher.geometry.curves import XY

USUAL = 2.5  # mm, height of lettering
PAD = 1.5  # mm beside lettering
LINE = 1.5  # from line to line of a text: half a height of space (ASME Y14.2-2008, 4.5)
LEAD = 2.2  # height of a row by that of the lettering


@dataclass(frozen=True, slots=True)
class Table:
    """Column titles, rows of as many cells, and the widest that each column may be, in mm."""

    titles: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    most: tuple[float, ...]

    def lettered(self, capitals: bool) -> Table:
        """Return the table as it is lettered."""
        def said(row: tuple[str, ...]) -> tuple[str, ...]:
            return tuple(lettered(cell, capitals) for cell in row)

        return Table(said(self.titles), tuple(map(said, self.rows)), self.most)

    def widths(self, height: float) -> list[float]:
        """Return the width of each column in mm: what its lettering needs, up to its most.

        A title is never cut; the most is for lettering of `USUAL`.
        """
        columns = zip(*self.rows, strict=True) if self.rows else ((),) * len(self.titles)
        found = []
        for title, column, most in zip(self.titles, columns, self.most, strict=True):
            widest = max((text_width(cell, height) for cell in column), default=0.0) + 2 * PAD
            found.append(max(text_width(title, height) + 2 * PAD,
                             min(most * height / USUAL, widest)))
        return found


def draw_table(
    table: Table, corner: XY, height: float, source: str, widths: Sequence[float] | None = None
) -> tuple[list[Item], tuple[float, float]]:
    """Draw a table below and right of its upper left corner; return items, width and height."""
    columns = list(widths or table.widths(height))
    step = LEAD * height
    (x, y), total = corner, sum(columns)
    lines = (table.titles, *table.rows)
    items: list[Item] = []
    for number in range(len(lines) + 1):
        items.append(line((x, y - number * step), (x + total, y - number * step), "section",
                          source))
    at = x
    for width in (*columns, 0.0):
        items.append(line((at, y), (at, y - len(lines) * step), "section", source))
        at += width
    for number, row in enumerate(lines):
        at = x
        base = y - (number + 0.5) * step - 0.5 * height
        for cell, width in zip(row, columns, strict=True):
            if cell:
                text = shortened(cell, height, width - 1.6 * PAD)
                items.append(Text(text, (at + 0.8 * PAD, base), height, source))
            at += width
    return items, (total, len(lines) * step)


def rows_that_fit(space: float, height: float) -> int:
    """Return how many rows, the title row left out, fit into a height in mm."""
    return max(1, int(space / (LEAD * height)) - 1)


def draw_paragraphs(
    paragraphs: Sequence[str], corner: XY, width: float, height: float, source: str,
    numbered: bool = False,
) -> tuple[list[Item], float]:
    """Draw wrapped paragraphs below a corner; return the items and the height that they take."""
    (x, y), step = corner, LINE * height
    items: list[Item] = []
    at = y
    for number, paragraph in enumerate(paragraphs, 1):
        indent = text_width("00. ", height) if numbered else 0.0
        if numbered:
            items.append(Text(f"{number}.", (x, at - height), height, source))
        for text in wrapped(paragraph, height, width - indent):
            items.append(Text(text, (x + indent, at - height), height, source))
            at -= step
    return items, y - at
