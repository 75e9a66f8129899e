"""Tables whose cells run over several lines, cut into pieces by height: of marks and of a class."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sketcher.drafting.lettering import text_width, wrapped
from sketcher.drafting.primitives import Item, Text, line
from sketcher.geometry.curves import XY
from sketcher.marking.number_rings import ring_items

SMALL = 2.5
"""Height of lettering in tables, in mm: the least of the series of ISO 3098-1 (from memory)."""
LEAD = 1.6  # from line to line, by the height of lettering
PAD = 1.5  # mm between lettering and rules
RING = 3.1  # mm, radius of a ring in a table: two figures fit
MIXED = re.compile(r"(?<=\d) (?=\d+/\d)")
JOINED = "\ue000"
"""In place of the space of 1 3/4 while a text is broken."""
BOLD = 1.05  # of bold lettering's width by that of other, as `Text.width` has it


@dataclass(frozen=True, slots=True)
class CellText:
    """What stands in a cell: paragraphs, the first of which may be bold; ringed or at the right."""

    paragraphs: tuple[str, ...]
    bold: bool = False
    right: bool = False
    ringed: bool = False


def said(text: str, bold: bool = False, right: bool = False) -> CellText:
    """Return a cell with one paragraph."""
    return CellText((text,) if text else (), bold, right)


@dataclass(frozen=True, slots=True)
class RuledRows:
    """A table: titles of its columns, their widths in mm, rows of as many cells.

    The lettering of a row has a source of its own: the table's with the row's first cell.
    """

    titles: tuple[str, ...]
    widths: tuple[float, ...]
    rows: tuple[tuple[CellText, ...], ...]
    source: str

    @property
    def width(self) -> float:
        """Width in mm."""
        return sum(self.widths)

    def tall(self, number: int) -> float:
        """Height of a row in mm."""
        lines = max(len(_lines(cell, width))
                    for cell, width in zip(self.rows[number], self.widths, strict=True))
        ringed = any(cell.ringed for cell in self.rows[number])
        tall = (lines - 1) * LEAD * SMALL + SMALL + 2.0 * PAD + 0.6
        return max(tall, 2.0 * RING + 1.2) if ringed else tall

    @property
    def head(self) -> float:
        """Height of the row of titles in mm."""
        lines = max(len(_lines(said(title, bold=True), width))
                    for title, width in zip(self.titles, self.widths, strict=True))
        return (lines - 1) * LEAD * SMALL + SMALL + 2.0 * PAD + 0.6

    @property
    def height(self) -> float:
        """Height of it all in mm."""
        return self.head + sum(self.tall(n) for n in range(len(self.rows)))

    @property
    def least(self) -> float:
        """Height in mm at which at least something of it fits."""
        return self.head + (self.tall(0) if self.rows else 0.0)

    def cut(self, room: float) -> tuple[RuledRows, RuledRows | None]:
        """Return the rows that fit in a height in mm, and those that do not; at least one fits."""
        left = room - self.head
        for number in range(len(self.rows)):
            left -= self.tall(number)
            if left < 0.0 and number:
                return (replace(self, rows=self.rows[:number]),
                        replace(self, rows=self.rows[number:]))
        return self, None

    def draw(self, corner: XY) -> Iterator[Item]:
        """Give what is drawn below and right of a corner."""
        x, y = corner
        source = self.source
        right = x + self.width
        yield line((x, y), (right, y), "section", source)
        yield from _row([said(title, bold=True, right=self._at_right(k))
                         for k, title in enumerate(self.titles)], self.widths, (x, y), source)
        y -= self.head
        yield line((x, y), (right, y), "section", source)
        for number, row in enumerate(self.rows):
            name = f"{source}:{row[0].paragraphs[0]}" if row[0].paragraphs else source
            yield from _row(row, self.widths, (x, y), name)
            y -= self.tall(number)
            yield line((x, y), (right, y), "section", source)

    def _at_right(self, column: int) -> bool:
        return bool(self.rows) and self.rows[0][column].right


def _row(
    row: Sequence[CellText], widths: Sequence[float], corner: XY, source: str
) -> Iterator[Item]:
    x, y = corner
    for cell, width in zip(row, widths, strict=True):
        if cell.ringed:
            yield from ring_items(cell.paragraphs[0], (x + PAD + RING, y - 0.6 - RING), RING,
                                  source)
        else:
            at = x + width - PAD if cell.right else x + PAD
            base = y - PAD - 0.3 - SMALL
            for text, bold in _lines(cell, width):
                yield Text(text, (at, base), SMALL, source, "right" if cell.right else "left",
                           bold=bold)
                base -= LEAD * SMALL
        x += width


def _lines(cell: CellText, width: float) -> list[tuple[str, bool]]:
    room = width - 2.0 * PAD
    return [(text, bold) for number, paragraph in enumerate(cell.paragraphs)
            for bold in [cell.bold and number == 0]
            for text in broken(paragraph, SMALL, room / (BOLD if bold else 1.0))] or [("", False)]


def broken(text: str, height: float, width: float) -> list[str]:
    """Break a text into lines of at most `width` mm: between words, a longer word anywhere.

    A whole number and its fraction are one word.
    """
    lines: list[str] = []
    for one in wrapped(MIXED.sub(JOINED, text), height, width):
        one = one.replace(JOINED, " ")
        while text_width(one, height) > width and len(one) > 1:
            fits = next(n for n in range(len(one) - 1, 0, -1)
                        if n == 1 or text_width(one[:n], height) <= width)
            lines.append(one[:fits])
            one = one[fits:]
        lines.append(one)
    return lines
