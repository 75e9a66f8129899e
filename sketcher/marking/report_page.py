"""Pages of marking: a light frame with heading and foot, and blocks poured down them in order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import zip_longest
from typing import Protocol, Self

from sketcher.drafting.lettering import shortened, text_width
from sketcher.drafting.line_classes import Practice
from sketcher.drafting.page import Page
from sketcher.drafting.paper_sizes import Sheet
from sketcher.drafting.primitives import Item, Text, line, polyline
from sketcher.geometry.bounds import Box
from sketcher.geometry.curves import XY
from sketcher.marking.ruled_rows import BOLD, LEAD, SMALL, broken

HEAD, FOOT = 17.0, 7.0
"""Height of heading and foot within the frame, in mm."""
GAP = 4.0  # mm between blocks, and between them and the frame
PAPER: Mapping[Practice, str] = {"ISO": "A4", "ASME": "A upright"}
"""Sheet of what is no picture alone."""
LARGE, USUAL = 6.0, 3.0  # lettering of the heading in mm


class PouredBlock(Protocol):
    """Something that is poured down pages."""

    @property
    def height(self) -> float:
        """Height of it all in mm."""

    @property
    def least(self) -> float:
        """Height in mm at which at least something of it fits."""

    def cut(self, room: float) -> tuple[PouredBlock, PouredBlock | None]:
        """Return what fits in a height in mm, and the rest."""

    def draw(self, corner: XY) -> Iterator[Item]:
        """Give what is drawn below and right of a corner."""


class UncutBlock:
    """A block that stands on one page whole."""

    __slots__ = ()
    height: float

    @property
    def least(self) -> float:
        """Height in mm below which nothing of it is drawn."""
        return self.height

    def cut(self, room: float) -> tuple[Self, None]:
        """Return it all: it is never cut."""
        return self, None


@dataclass(frozen=True, slots=True)
class Paragraphs:
    """Paragraphs of small lettering, each broken at a width in mm; the first may be bold."""

    texts: tuple[str, ...]
    width: float
    source: str
    bold: bool = False

    def _lines(self) -> list[tuple[str, bool]]:
        return [(each, self.bold and k == 0) for k, text in enumerate(self.texts)
                for each in broken(text, SMALL, self.width / BOLD)]

    @property
    def height(self) -> float:
        """Height of it all in mm."""
        return LEAD * SMALL * len(self._lines())

    @property
    def least(self) -> float:
        """Height in mm at which at least something of it fits."""
        return self.height if len(self.texts) == 1 else Paragraphs(
            self.texts[:2 if self.bold else 1], self.width, self.source, self.bold).height

    def cut(self, room: float) -> tuple[Paragraphs, Paragraphs | None]:
        """Return what fits in a height in mm, and the rest."""
        for count in range(len(self.texts), 1, -1):
            some = Paragraphs(self.texts[:count], self.width, self.source, self.bold)
            if some.height <= room:
                break
        else:
            count, some = 1, Paragraphs(self.texts[:1], self.width, self.source, self.bold)
        rest = self.texts[count:]
        return some, Paragraphs(rest, self.width, self.source) if rest else None

    def draw(self, corner: XY) -> Iterator[Item]:
        """Give what is drawn below and right of a corner."""
        x, y = corner
        for text, bold in self._lines():
            yield Text(text, (x, y - SMALL), SMALL, self.source, bold=bold)
            y -= LEAD * SMALL


@dataclass(frozen=True, slots=True)
class PageHeading:
    """What stands at the top of each page: a title and a line, and at the right a result."""

    title: str
    line: str
    result: str = ""
    below: str = ""


def poured(
    blocks: Sequence[PouredBlock], first: float, further: float
) -> list[list[tuple[PouredBlock, float]]]:
    """Return what stands on each page, and how far below the top of the page's room, in mm.

    Parameters
    ----------
    blocks : sequence of PouredBlock
    first, further : float
        Height of the room of the first page and of the others.
    """
    pages: list[list[tuple[PouredBlock, float]]] = [[]]
    down = 0.0
    for block, following in zip_longest(blocks, blocks[1:]):
        rest: PouredBlock | None = block
        # a heading stays with what it is of
        with_it = isinstance(block, Paragraphs) and block.bold and following is not None
        kept = block.height + GAP + following.least if with_it and following else 0.0
        while rest is not None:
            room = (first if len(pages) == 1 else further) - down
            if down and max(kept, rest.least) > room:
                pages.append([])
                down = 0.0
                continue
            some, rest = (rest, None) if rest.height <= room else rest.cut(room)
            pages[-1].append((some, down))
            down += some.height + GAP
    return pages


def page_room(sheet: Sheet) -> Box:
    """Return where blocks stand on a page: within its frame, heading and foot."""
    left, low, right, high = sheet.inner
    return (left + GAP, low + FOOT + GAP, right - GAP, high - HEAD - GAP)


def poured_items(sheet: Sheet, page: Sequence[tuple[PouredBlock, float]]) -> list[Item]:
    """Return what is drawn of the blocks that stand on a page."""
    left, _, _, high = page_room(sheet)
    return [item for block, down in page for item in block.draw((left, high - down))]


def poured_pages(
    sheet: Sheet, heading: PageHeading, blocks: Sequence[PouredBlock], title: str, name: str
) -> tuple[Page, ...]:
    """Return pages with blocks poured down them."""
    _, low, _, high = page_room(sheet)
    return framed_pages(sheet, heading, [
        poured_items(sheet, page) for page in poured(blocks, high - low, high - low)], title, name)


def framed_pages(
    sheet: Sheet, heading: PageHeading, bodies: Sequence[Sequence[Item]], title: str, name: str
) -> tuple[Page, ...]:
    """Return pages of what is on each, with a frame around it."""
    return tuple(_framed(sheet, heading, f"Page {number} of {len(bodies)}", body, title, name)
                 for number, body in enumerate(bodies, 1))


def _framed(
    sheet: Sheet, heading: PageHeading, page: str, items: Sequence[Item], title: str, name: str
) -> Page:
    left, low, right, high = sheet.inner
    framed: list[Item] = [*polyline(
        [(left, low), (right, low), (right, high), (left, high), (left, low)], "visible", "frame")]
    framed.append(line((left, high - HEAD), (right, high - HEAD), "section", "frame"))
    framed.append(line((left, low + FOOT), (right, low + FOOT), "section", "frame"))
    framed += _head(sheet, heading)
    base = low + 0.5 * (FOOT - SMALL)
    wide = right - left - 3.0 * GAP - text_width(page, SMALL)
    framed.append(Text(shortened(title, SMALL, wide), (left + GAP, base), SMALL, "foot"))
    framed.append(Text(page, (right - GAP, base), SMALL, "foot", "right"))
    return Page(name, sheet.size, sheet.practice, (*items, *framed), title=title,
                sheet=sheet.format)


def _head(sheet: Sheet, heading: PageHeading) -> Iterator[Item]:
    left, _, right, high = sheet.inner
    room = right - left - 2.0 * GAP
    result = text_width(heading.result, LARGE) * BOLD
    low = text_width(heading.below, SMALL)
    height = LARGE
    while height > USUAL and text_width(heading.title, height) * BOLD > room - result - GAP:
        height -= 0.25
    title = shortened(heading.title, height, (room - result - GAP) / BOLD)
    yield Text(title, (left + GAP, high - 3.0 - LARGE), height, "heading", bold=True)
    yield Text(shortened(heading.line, USUAL, room - low - GAP), (left + GAP, high - 14.0), USUAL,
               "heading")
    if heading.result:
        yield Text(heading.result, (right - GAP, high - 3.0 - LARGE), LARGE, "result", "right",
                   bold=True)
    if heading.below:
        yield Text(heading.below, (right - GAP, high - 14.0), SMALL, "result", "right")
