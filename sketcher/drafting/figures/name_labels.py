"""Names of a figure as they are lettered: the number of a step in a ring, the name, a leader."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import hypot

import numpy as np

from sketcher.drafting.layout.ink import Array
from sketcher.drafting.lettering import descent, text_width
from sketcher.drafting.primitives import Item, Stroke, Text, arrowhead, line
from sketcher.geometry.curves import XY, Circle, Curve

ARROW = 2.0
"""mm, length of the arrowhead on a curve: it tells a leader from a line of the part."""
CLEAR = 0.5
"""mm between a name and its leader."""
GAP = 0.8
"""mm between ring and name, and between two rings (common practice, no source)."""


@dataclass(frozen=True)
class NameBox:
    """A name as it is lettered, with its size.

    Parameters
    ----------
    text : str
    numbers : tuple of str
    height : float
        Of the lettering in mm.
    bold : bool
    """

    text: str
    numbers: tuple[str, ...]
    height: float
    bold: bool = False

    @cached_property
    def ring(self) -> float:
        """Radius of the rings in mm."""
        widest = max((text_width(number, self.height) for number in self.numbers), default=0.0)
        return hypot(0.5 * widest, 0.5 * self.height) + 0.15 * self.height

    @property
    def rings(self) -> float:
        """Width of the rings with the gaps behind them."""
        return len(self.numbers) * (2.0 * self.ring + GAP) - (0.0 if self.text else
                                                             GAP * bool(self.numbers))

    @cached_property
    def half(self) -> tuple[float, float]:
        """Half width and half height."""
        wide = Text(self.text, (0.0, 0.0), self.height, "", bold=self.bold).width
        tall = 0.5 * self.height + 0.2 * descent(self.height)
        return (0.5 * (self.rings + wide), max(tall, self.ring if self.numbers else 0.0))

    def items(self, middle: XY, source: str) -> list[Item]:
        """Return the ink around a middle."""
        (x, y), (wide, _), low = middle, self.half, 0.5 * self.height
        at = x - wide
        found: list[Item] = []
        for number in self.numbers:
            center = (at + self.ring, y)
            found += [Stroke(Circle(center, self.ring), "dimension", source),
                      Text(number, (center[0], y - low), self.height, source, "center")]
            at += 2.0 * self.ring + GAP
        if self.text:
            found.append(Text(self.text, (at, y - low), self.height, source, bold=self.bold))
        return found

    def reached(self, middles: Array, tips: Array) -> Array:
        """Return where leaders from tips (n, 2) end at the name about middles (n, 2)."""
        (wide, tall), ring = self.half, self.ring
        ends = []
        if self.numbers:
            center = middles - np.array((wide - ring, 0.0))
            way = tips - center
            far = np.maximum(np.hypot(*way.T), 1e-9)[:, None]
            ends.append(center + ring * way / far)
        else:
            ends.append(middles - np.array((wide + CLEAR, 0.0)))
            across = np.where(tips[:, 1] > middles[:, 1], tall + CLEAR, -tall - CLEAR)
            over = np.abs(tips[:, 0] - middles[:, 0]) < wide
            ends.append(np.where(over[:, None], np.stack((tips[:, 0], middles[:, 1] + across), 1),
                                 np.inf))
        if self.text:
            ends.append(middles + np.array((wide + CLEAR, 0.0)))
        every = np.stack(ends)
        nearest = np.hypot(*np.moveaxis(every - tips, -1, 0)).argmin(axis=0)
        return np.asarray(every[nearest, np.arange(len(tips))])


@dataclass(frozen=True, slots=True)
class WantedName:
    """A name that is to be placed, in mm on paper.

    Parameters
    ----------
    label : NameBox
    source : str
    at : XY or None
        The point that it names.
    curves : tuple of Curve
        What it names where that is no point.
    owner : int
        Number of its curve among those of the figure, -1 for a point.
    """

    label: NameBox
    source: str
    at: XY | None = None
    curves: tuple[Curve, ...] = ()
    owner: int = -1


@dataclass(frozen=True, slots=True)
class PlacedName:
    """Where a name stands, and the tip of its leader."""

    wanted: WantedName
    middle: XY
    tip: XY | None
    cost: float

    def items(self) -> list[Item]:
        """Return the ink."""
        found = self.wanted.label.items(self.middle, self.wanted.source)
        if self.tip is not None:
            label, source = self.wanted.label, self.wanted.source
            x, y = label.reached(np.array([self.middle]), np.array([self.tip]))[0].tolist()
            found.append(line(self.tip, (x, y), "leader", source))
            if self.wanted.at is None:
                way = (self.tip[0] - x, self.tip[1] - y)
                found.append(arrowhead(self.tip, way, source, ARROW, ARROW / 3.0))
        return found
