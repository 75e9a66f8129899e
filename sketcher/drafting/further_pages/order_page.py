"""The construction order: on each page a figure with the steps that it is for.

The steps stand below the figure or beside it, whichever takes fewer pages; a figure has what they
do in heavy line and what stood before in thin.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, partial
from math import prod

from sketcher.drafting.figures.figure_drawing import (
    MARGIN,
    FigureStyle,
    draw_figure,
)
from sketcher.drafting.figures.figure_ink import figure_ink, shape_of
from sketcher.drafting.figures.figure_steps import FigureSteps, FigureStock
from sketcher.drafting.figures.move_pages import MovePages
from sketcher.drafting.figures.page_parting import parted
from sketcher.drafting.figures.step_lines import SOURCE, Filled, StepLettering, StepUnit
from sketcher.drafting.line_classes import Practice
from sketcher.drafting.page_kind import EDGE, Asked, PageKind
from sketcher.drafting.paper_sizes import LEAST_LETTERING
from sketcher.drafting.primitives import Item, Text
from sketcher.geometry.bounds import Box
from sketcher.geometry.curves import XY
from sketcher.lesson.order_step import OrderStep

COLUMN = 78.0
"""Least width of a column of steps in mm."""
FIGURE_SHARE = 0.42
"""Share of the page that a figure has at least, where it can use it (by trial)."""
MAIN_SHARE = 0.6
"""Share that the half has beside the finished part, which has fewer names (by trial)."""
FLAT = 40.0
"""mm that a figure has at least, where its width is as much (by trial)."""
PER_NAME = 3.0
"""mm of height that each of the names takes of a flat part (by trial)."""
USABLE = 1.15
"""Height that a figure gets by what it takes at the width of its place."""
NEAR_FIGURES: Mapping[Practice, float] = {"ISO": 2.5, "ASME": LEAST_LETTERING}
"""mm: height of the names in a figure and of the steps beside it, where no other is set. By ISO one
down the series of ISO 3098-1 from that of the sheet (from memory): as large as print in a book."""


@dataclass(frozen=True)
class _OrderPages:
    """Pages of one way to lay them out.

    Parameters
    ----------
    asked : Asked
    stock : FigureStock
    beside : bool
        Whether steps stand beside the figure, not below it.
    """

    asked: Asked
    stock: FigureStock
    beside: bool
    _shapes: dict[int, XY] = field(default_factory=dict)

    @cached_property
    def area(self) -> Box:
        """What the body may take."""
        sheet = self.asked.sheet
        left, _, right, top = sheet.inner
        return (left + EDGE, sheet.block[3] + EDGE, right - EDGE,
                top - 2.0 * EDGE - sheet.large)

    @cached_property
    def size(self) -> tuple[float, float]:
        """Width and height of the area."""
        x0, y0, x1, y1 = self.area
        return (x1 - x0, y1 - y0)

    @cached_property
    def columns(self) -> int:
        """How many columns of steps there are."""
        return 1 if self.beside else max(1, int(self.size[0] / COLUMN))

    @cached_property
    def apart(self) -> float:
        """Width of a column with the room beside it."""
        if self.beside:
            return max(COLUMN, 0.37 * self.size[0])
        return self.size[0] / self.columns

    @cached_property
    def lettering(self) -> StepLettering:
        """How the steps are lettered."""
        sheet = self.asked.sheet
        set_by_hand = self.asked.part.drawing.lettering is not None
        height = sheet.height if set_by_hand else NEAR_FIGURES[sheet.practice]
        return StepLettering(height, self.apart - EDGE, self.asked.said)

    @cached_property
    def style(self) -> FigureStyle:
        """How the figures are lettered."""
        return FigureStyle(self.asked.sheet.practice, self.lettering.height, self.asked.said)

    @cached_property
    def units(self) -> list[StepUnit]:
        """The steps as lines."""
        return self.lettering.units(self.stock.steps)

    def figures(self, first: int, end: int) -> list[FigureSteps]:
        """Return the figures of a range of units."""
        a, b = self.units[first].step, self.units[end - 1].step + 1
        turn = self.stock.finishing
        found = []
        if a < turn:
            found.append(FigureSteps(self.stock, a, min(b, turn)))
        if b > turn:
            found.append(FigureSteps(self.stock, max(a, turn), b, True))
        return found

    def shape(self, figure: FigureSteps) -> XY:
        """Return width and height of a figure, in the part's unit; the half always has the same."""
        key = figure.end if figure.finishing else 0
        if key not in self._shapes:
            self._shapes[key] = shape_of(figure)
        return self._shapes[key]

    def room(self, first: int, end: int) -> float:
        """Return the height in mm that steps may take."""
        if self.beside:
            return self.size[1]
        least = FIGURE_SHARE * self.size[1]
        needed = sum(natural(self.shape(figure), self.size[0], len(figure.named()))
                     for figure in self.figures(first, end))
        return self.size[1] - EDGE - min(least, needed)

    @cached_property
    def grown(self) -> float:
        """How large the first figure is: paper by part, by the size of the paper."""
        boxes, _, _ = self._laid(*self.pages[0])
        shape = self.shape(self.figures(*self.pages[0])[0])
        size = (boxes[0][2] - boxes[0][0], boxes[0][3] - boxes[0][1])
        return fitted(shape, size) * max(shape) / max(self.size)

    @cached_property
    def pages(self) -> list[tuple[int, int]]:
        """The pages as ranges of units."""
        def fits(first: int, end: int) -> bool:
            some = self.units[first:end]
            return self.lettering.least(some, self.columns, self.room(first, end)) is not None

        def names(first: int, end: int) -> int:
            return max(len(figure.named()) for figure in self.figures(first, end))

        return parted(self.units, fits, names)

    def bodies(self) -> Iterator[list[Item]]:
        """Give what stands on each page."""
        for first, end in self.pages:
            boxes, corner, columns = self._laid(first, end)
            items = self.lettering.items(columns, corner, self.apart)
            for figure, box in zip(self.figures(first, end), boxes, strict=True):
                items += draw_figure(partial(figure_ink, figure), box, self.style).items
            yield items

    def _laid(self, first: int, end: int) -> tuple[list[Box], XY, Filled]:
        """Return the places of the figures, the corner of the columns, and the columns."""
        some, room = self.units[first:end], self.room(first, end)
        height = self.lettering.least(some, self.columns, room) or room
        columns = self.lettering.filled(some, self.columns, height) or []
        shapes = [(self.shape(figure), len(figure.named())) for figure in self.figures(first, end)]
        x0, y0, x1, y1 = self.area
        if self.beside:
            return (places((x0, y0, x1 - self.apart, y1), shapes), (x1 - self.apart + EDGE, y1),
                    columns)
        boxes = places((x0, y0 + height + EDGE, x1, y1), shapes)
        return boxes, (x0, min(box[1] for box in boxes) - EDGE), columns


def natural(shape: XY, width: float, names: int) -> float:
    """Return the height in mm that a figure takes which is as wide as its place.

    A flat part has room for its names, and for details, all the same.
    """
    return max(2.0 * MARGIN + (width - 2.0 * MARGIN) * shape[1] / max(shape[0], 1e-9),
               min(max(FLAT, PER_NAME * names), width))


def places(place: Box, shapes: Sequence[tuple[XY, int]]) -> list[Box]:
    """Return where figures stand, beside or below each other, from the top.

    Of both ways the one in which they are larger; nothing is higher than it can use.

    Parameters
    ----------
    place : Box
        What they may take together, in mm.
    shapes : sequence of (XY, int)
        Width and height of each in any unit, and how many names it has.
    """
    x0, y0, x1, y1 = place
    wide, tall = x1 - x0, y1 - y0
    needs = [natural(shape, wide, names) for shape, names in shapes]
    ways = []
    for beside in (True, False):
        shares = ([need / sum(needs) for need in needs] if not beside else
                  [1.0] if len(shapes) == 1 else [MAIN_SHARE, 1.0 - MAIN_SHARE])
        sizes = [(wide * share, tall) if beside else (wide, tall * share) for share in shares]
        used = [(w, min(h, USABLE * natural(shape, w, names)))
                for (w, h), (shape, names) in zip(sizes, shapes, strict=True)]
        grown = prod(fitted(shape, size) for (shape, _), size in zip(shapes, used, strict=True))
        boxes, x, y = [], x0, y1
        for w, h in used:
            boxes.append((x, y - h, x + w, y))
            x, y = (x + w, y) if beside else (x, y - h)
        ways.append((grown, boxes))
    return max(ways, key=lambda way: way[0])[1]


def fitted(shape: XY, size: XY) -> float:
    """Return the factor at which a figure of a shape fits on a place of a size."""
    return min((room - 2.0 * MARGIN) / max(one, 1e-9)
               for one, room in zip(shape, size, strict=True))


def order_bodies(
    asked: Asked, moves: bool = False, steps: tuple[OrderStep, ...] | None = None
) -> list[list[Item]]:
    """Return the body of each page.

    Parameters
    ----------
    asked : Asked
    moves : bool
        Whether what the hand does is told too.
    steps : tuple of OrderStep, optional
        The construction, where the caller has it.
    """
    laid = _laid_out(asked, moves, steps)
    return [[_heading(asked, number), *body] for number, body in enumerate(laid.bodies())]


def order_count(
    asked: Asked, moves: bool = False, steps: tuple[OrderStep, ...] | None = None
) -> float:
    """Return how many pages it takes, and by a fraction how small the figures are."""
    laid = _laid_out(asked, moves, steps)
    return len(laid.pages) + 0.5 / (1.0 + laid.grown)


def _laid_out(
    asked: Asked, moves: bool, steps: tuple[OrderStep, ...] | None
) -> _OrderPages | MovePages:
    """Return the pages of the way that takes the fewest."""
    if steps is None:
        from sketcher.lesson.order import construction_order

        steps = construction_order(asked.part)
    stock = FigureStock(asked.part, steps)
    ways = [_OrderPages(asked, stock, beside) for beside in (False, True)]
    if moves and any(step.moves for step in steps):
        lettering = replace(ways[0].lettering, moves=True)
        return MovePages(stock, ways[0].area, lettering, ways[0].style)
    return min(ways, key=lambda way: (len(way.pages), -way.grown))


def _heading(asked: Asked, number: int) -> Text:
    sheet = asked.sheet
    said = asked.said("Construction order" + (", continued" if number else ""))
    at = (sheet.inner[0] + EDGE, sheet.inner[3] - EDGE - sheet.large)
    return Text(said, at, sheet.large, SOURCE)


def order_pages(steps: tuple[OrderStep, ...], moves: bool) -> PageKind:
    """Return the pages of a construction that is there already, with or without hand moves."""
    return replace(PAGE, bodies=lambda asked: order_bodies(asked, moves, steps),
                   planned=lambda asked: order_count(asked, moves, steps))


PAGE = PageKind("construction order", 20, lambda part: part.drawing.order_page, order_bodies,
                order_count)
