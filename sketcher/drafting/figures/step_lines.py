"""The steps beside a figure as lines of lettering, and how they fill columns."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import TypeAlias

from sketcher.drafting.lettering import text_width, wrapped
from sketcher.drafting.primitives import Item, Text
from sketcher.geometry.curves import XY
from sketcher.lesson.order_step import OrderStep

PITCH = 1.7
"""Distance of lines by the height of lettering."""
BEFORE = 0.7
"""Room before a heading, in lines."""
SOURCE = "sheet:order"

@dataclass(frozen=True, slots=True)
class StepLine:
    """A line of lettering: its text and indent in mm, and what stands at the margin before it."""

    text: str
    indent: float
    margin: str = ""
    bold: bool = False


Group: TypeAlias = tuple[StepLine, ...]
Filled: TypeAlias = list[list[Group]]
"""Groups of lines, column by column."""


@dataclass(frozen=True, slots=True)
class StepUnit:
    """Lines that no column parts but between its groups.

    Parameters
    ----------
    step : int
        Which step they tell, counted from 0.
    groups : tuple of Group
    opens : bool
        Whether a stage begins with it.
    """

    step: int
    groups: tuple[Group, ...]
    opens: bool


@dataclass(frozen=True, slots=True)
class StepLettering:
    """How steps are lettered.

    Parameters
    ----------
    height, width : float
        Of the lettering and of a column, in mm.
    said : callable
        A text as the sheet has it.
    moves : bool
        Whether what the hand does is told too.
    """

    height: float
    width: float
    said: Callable[[str], str]
    moves: bool = False

    @property
    def pitch(self) -> float:
        """Distance of lines in mm."""
        return PITCH * self.height

    def units(self, steps: Sequence[OrderStep]) -> list[StepUnit]:
        """Return a unit for each step; the first of a stage has its heading."""
        found = []
        stage = ""
        for number, step in enumerate(steps):
            opens = bool(step.stage) and step.stage != stage
            stage = step.stage
            found.append(StepUnit(number, tuple(self._groups(step, opens)), opens))
        return found

    def _groups(self, step: OrderStep, opens: bool) -> Iterator[Group]:
        indent = text_width("000. ", self.height)
        heading = [StepLine(self.said(step.stage), 0.0, bold=True)] if opens else []
        inner = indent + text_width("– ", self.height)
        below = [tuple(self._lines(text, "–", inner)) for text in step.substeps]
        if self.moves:
            numbers = [f"{step.number}.{k}" for k in range(1, len(step.moves) + 1)]
            wide = indent + max(text_width(f"{n} ", self.height) for n in (*numbers, "0.0"))
            below += [tuple(self._lines(move.text, number, wide))
                      for move, number in zip(step.moves, numbers, strict=True)]
        # What a step says does not stand alone at the foot of a column.
        yield (*heading, *self._lines(plain_text(step), f"{step.number}.", indent),
               *chain.from_iterable(below[:1]))
        yield from below[1:]

    def _lines(self, text: str, margin: str, indent: float) -> Iterator[StepLine]:
        for line in wrapped(self.said(text), self.height, self.width - indent):
            yield StepLine(line, indent, margin)
            margin = ""

    def tall(self, group: Sequence[StepLine], first: bool) -> float:
        """Return the height of a group in mm; what is first in a column has no room above."""
        return self.pitch * (len(group) + (BEFORE if group[0].bold and not first else 0.0))

    def filled(
        self, units: Iterable[StepUnit], columns: int, most: float
    ) -> Filled | None:
        """Return groups in columns of at most so many mm, or None where they do not fit."""
        found: Filled = [[]]
        at = 0.0
        for unit in units:
            for group in unit.groups:
                need = self.tall(group, not found[-1])
                if found[-1] and at + need > most + 1e-6:
                    found.append([])
                    at, need = 0.0, self.tall(group, True)
                if len(found) > columns or need > most + 1e-6:
                    return None
                found[-1].append(group)
                at += need
        return found

    def least(self, units: Sequence[StepUnit], columns: int, most: float) -> float | None:
        """Return the least height in mm at which units fit into columns; None over `most`."""
        whole = sum(self.tall(group, False) for unit in units for group in unit.groups)
        height = whole / columns
        if height > most:
            return None
        while height <= most:
            if self.filled(units, columns, height) is not None:
                return height
            height += 0.5 * self.pitch
        return most if self.filled(units, columns, most) is not None else None

    def items(self, columns: Filled, corner: XY,
              apart: float) -> list[Item]:
        """Return the lettering of columns `apart` mm from each other, from an upper left corner."""
        found: list[Item] = []
        for number, column in enumerate(columns):
            x, y = corner[0] + number * apart, corner[1]
            for k, group in enumerate(column):
                if group[0].bold and k:
                    y -= BEFORE * self.pitch
                for line in group:
                    base = y - self.height
                    if line.margin:
                        wide = text_width(f"{line.margin} ", self.height)
                        at = x if line.margin.endswith(".") else x + line.indent - wide
                        found.append(Text(line.margin, (at, base), self.height, SOURCE))
                    found.append(Text(line.text, (x + line.indent, base), self.height, SOURCE,
                                      bold=line.bold))
                    y -= self.pitch
        return found


def plain_text(step: OrderStep) -> str:
    """Return what a step says without the ids of its bindings, which no paper shows."""
    return step.text.removesuffix(f" [{', '.join(step.bindings)}]")
