"""Which steps of a construction a figure is for, and what of the part they name."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import chain

from sketcher.lesson.order_step import OrderStep
from sketcher.part.value import Part
from sketcher.part.whole import Piece, whole

WORD = re.compile(r"[^\W\d]\w*")


MOST_IMAGES = 2000
"""Images of a pattern that a figure shows; with more no hole is told from the next."""


@dataclass(frozen=True)
class FigureStock:
    """What all figures of a construction are made from.

    Parameters
    ----------
    part : Part
        The solved part.
    steps : tuple of OrderStep
        All steps of its construction.
    """

    part: Part
    steps: tuple[OrderStep, ...]

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """The whole part."""
        return whole(self.part, MOST_IMAGES)

    @cached_property
    def finishing(self) -> int:
        """How many steps come before the first of those that make nothing new of the half.

        They go over its outline, and draw images of it.
        """
        known: set[str] = set()
        last = 0
        for number, step in enumerate(self.steps, 1):
            new = {name for name in (*step.points, *step.curves)
                   if name in self.part.points or name in self.part.curves} - known
            if new:
                known |= new
                last = number
        return last


@dataclass(frozen=True, slots=True)
class FigureSteps:
    """The steps of one figure.

    Parameters
    ----------
    stock : FigureStock
    first, end : int
        Which of them the figure is for, as a range.
    finishing : bool
        Whether they only go over, repeat and reflect: the whole part is shown.
    """

    stock: FigureStock
    first: int
    end: int
    finishing: bool = False

    @property
    def part(self) -> Part:
        """The solved part."""
        return self.stock.part

    @property
    def every(self) -> tuple[OrderStep, ...]:
        """All steps of the construction."""
        return self.stock.steps

    @property
    def steps(self) -> tuple[OrderStep, ...]:
        """What the figure is for."""
        return self.every[self.first:self.end]

    @property
    def told(self) -> tuple[OrderStep, ...]:
        """All steps up to the last of this figure."""
        return self.every[:self.end]

    @property
    def later(self) -> frozenset[str]:
        """What is drawn or found only after this figure."""
        return made_in(self.every[self.end:]) - made_in(self.told)

    def named(self) -> tuple[str, ...]:
        """Return the ids of points and curves that its steps make or speak of, each once."""
        found = (name for step in self.steps for name in names_of_step(self.part, step))
        return tuple(dict.fromkeys(found))


def names_of_step(part: Part, step: OrderStep) -> tuple[str, ...]:
    """Return the ids of the points and curves that a step makes or speaks of, each once."""
    said = chain((step.text,), step.substeps)
    return tuple(dict.fromkeys((*step.points, *step.curves,
                                *(n for text in said for n in names_in(part, text)))))


def names_in(part: Part, text: str) -> Iterator[str]:
    """Give the ids of points and curves that stand in a text."""
    for word in WORD.findall(text):
        if word in part.points or word in part.curves:
            yield word


def made_in(steps: Iterable[OrderStep]) -> frozenset[str]:
    """Return the ids of all that some steps draw or find."""
    return frozenset(chain.from_iterable((*step.points, *step.curves) for step in steps))
