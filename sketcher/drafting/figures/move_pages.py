"""The hand moves of a construction on paper: beside each step a figure of its strokes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property, partial
from itertools import chain

from sketcher.drafting.figures.figure_drawing import MARGIN, FigureStyle, Inked, draw_figure
from sketcher.drafting.figures.figure_ink import FigureInk, figure_ink
from sketcher.drafting.figures.figure_steps import FigureSteps, FigureStock
from sketcher.drafting.figures.step_lines import Filled, StepLettering, StepUnit
from sketcher.drafting.figures.stroke_ink import StrokeInk
from sketcher.drafting.primitives import Item
from sketcher.geometry.bounds import Box

TEXT_SHARE = 0.46
"""Share of the width that the moves have, the figure has the rest."""
LEAST, MOST = 34.0, 84.0
"""Heights in mm between which a figure stays, whatever its shape (by trial on the demo parts)."""
PER_NAME = 5.0
"""mm by which a figure may be higher than the least for each of its names (likewise)."""
CROWDED, WIDE = 22, 0.6
"""Names with which a figure is as wide as the page, and its height then at most, by the page's."""
USABLE = 1.3
"""Height that a figure takes beside longer text, by its own."""
APART = 5.0
"""mm between two steps."""


@dataclass(slots=True)
class MoveRow:
    """A step with its moves, or as much of it as a page holds, and the figure that it has.

    Parameters
    ----------
    columns : list of list of Group
        One column beside the figure, or two where there is none.
    figure : callable or None
        What its figure shows.
    figure_height, text_height : float
        In mm.
    below : bool
        Whether the figure stands below the text, as wide as the page.
    """

    columns: Filled
    figure: Inked | None = None
    figure_height: float = 0.0
    text_height: float = 0.0
    below: bool = False

    @property
    def height(self) -> float:
        """Height in mm."""
        if self.below:
            return self.text_height + self.figure_height
        return max(self.text_height, self.figure_height)


@dataclass
class MovePages:
    """Pages of steps with their moves.

    Parameters
    ----------
    stock : FigureStock
    area : Box
        What of a page the steps and figures may take.
    lettering : StepLettering
        Its width is set here.
    style : FigureStyle
    """

    stock: FigureStock
    area: Box
    lettering: StepLettering
    style: FigureStyle

    def __post_init__(self) -> None:
        """Give the lettering its column."""
        self.lettering = replace(self.lettering, width=self.text_width)

    @property
    def text_width(self) -> float:
        """Width of the moves in mm."""
        return TEXT_SHARE * (self.area[2] - self.area[0])

    @property
    def grown(self) -> float:
        """How large figures are, by the size of the paper: they are as large on any."""
        return 1.0

    @property
    def figure_width(self) -> float:
        """Width of a figure in mm."""
        return self.area[2] - self.area[0] - self.text_width

    @cached_property
    def pages(self) -> list[list[MoveRow]]:
        """The rows, page by page."""
        tall = self.area[3] - self.area[1]
        found: list[list[MoveRow]] = []
        at = tall
        for unit in self.lettering.units(self.stock.steps):
            for row in self._rows(unit, tall):
                if at + row.height > tall:
                    found.append([])
                    at = 0.0
                found[-1].append(row)
                at += row.height + APART
        return found

    def _rows(self, unit: StepUnit, most: float) -> Iterator[MoveRow]:
        """Give a step as one row, or as several where it is longer than a page."""
        inked = self._inked(unit.step)
        ink = None if inked is None else inked(0.0)
        if ink is not None and len(ink.names) > CROWDED:
            yield from self._crowded(unit, inked, ink, most)
            return
        height = 0.0 if ink is None else self._natural(
            ink, self.figure_width, min(MOST, LEAST + PER_NAME * len(ink.names)))
        row = MoveRow([[]], inked, height)
        for group in unit.groups:
            need = self.lettering.tall(group, not row.columns[0])
            if row.columns[0] and row.text_height + need > most:
                yield row
                row = MoveRow([[]])
                need = self.lettering.tall(group, True)
            row.columns[0].append(group)
            row.text_height += need
        yield row

    def _crowded(
        self, unit: StepUnit, inked: Inked | None, ink: FigureInk, most: float
    ) -> Iterator[MoveRow]:
        """Give a step of many names: what it says, a figure as wide as the page, the moves."""
        head = unit.groups[0]
        text = self.lettering.tall(head, True)
        height = self._natural(ink, self.area[2] - self.area[0], WIDE * most)
        yield MoveRow([[head]], inked, height, text, below=True)
        rest = replace(unit, groups=unit.groups[1:])
        columns = self.lettering.filled([rest], len(rest.groups) + 1, most) or []
        for k in range(0, len(columns), 2):
            pair = replace(unit, groups=tuple(chain.from_iterable(columns[k:k + 2])))
            text = self.lettering.least([pair], 2, most) or most
            yield MoveRow(self.lettering.filled([pair], 2, text) or [], text_height=text)

    def _inked(self, step: int) -> Inked | None:
        ink = self._strokes_of(step)
        if ink.now:
            return ink.ink
        first = self.stock.finishing
        if step < first or (step > first and not self._strokes_of(step - 1).now):
            return None
        # One figure for all that only go over the outline one after the other.
        count = len(self.stock.steps)
        end = next((k for k in range(step, count) if self._strokes_of(k).now), count)
        return partial(figure_ink, FigureSteps(self.stock, step, end, True))

    def _strokes_of(self, step: int) -> StrokeInk:
        return StrokeInk(FigureSteps(self.stock, step, step + 1))

    def _natural(self, ink: FigureInk, width: float, most: float) -> float:
        """Return the height of a figure of a width, in mm."""
        x0, y0, x1, y1 = ink.box
        scale = (width - 2.0 * MARGIN) / max(x1 - x0, 1e-9)
        return min(max(2.0 * MARGIN + scale * (y1 - y0), LEAST), most)

    def bodies(self) -> Iterator[list[Item]]:
        """Give what stands on each page, its heading left out."""
        x0, _, x1, top = self.area
        for rows in self.pages:
            items: list[Item] = []
            y = top
            for row in rows:
                items += self.lettering.items(row.columns, (x0, y), 0.5 * (x1 - x0))
                if row.figure is not None and row.below:
                    box = (x0, y - row.height, x1, y - row.text_height)
                    items += draw_figure(row.figure, box, self.style).items
                elif row.figure is not None:
                    tall = min(row.height, USABLE * row.figure_height)
                    box = (x0 + self.text_width, y - tall, x1, y)
                    items += draw_figure(row.figure, box, self.style).items
                y -= row.height + APART
            yield items
