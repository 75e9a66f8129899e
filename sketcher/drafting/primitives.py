"""The display list: what every writer draws, in mm on paper, y up.

Each item carries a source: the id of the curve, center mark or dimension that it belongs to, with
a word in front (``curve:e1``, ``center:h1/level``, ``dimension:b3``, ``sheet:title``).
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import cos, radians, sin
from typing import Literal, TypeAlias

from sketcher.drafting.lettering import descent, text_width
from sketcher.drafting.line_classes import Fit
from sketcher.geometry.bounds import Box, bounds
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import moved, piece
from sketcher.geometry.vectors import normalized

FAINT_INK = "#d9d9d9"
"""Of what is printed behind the drawing and must not hide it."""
BAND_INK = "#bfbfbf"
"""Of what is compared with: a copier still sees it, and a line of INK lies plainly on it."""

Anchor: TypeAlias = Literal["left", "center", "right"]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line, arc or circle of a line class; solid, or with a pattern fitted to its length.

    A `band` is what is compared with: so many mm wide, whatever its class says, and printed grey
    behind everything else.
    """

    curve: Curve
    line: str
    source: str
    fit: Fit | None = None
    band: float = 0.0

    def dashes(self) -> tuple[Curve, ...]:
        """Return the inked pieces."""
        length = self.curve.length
        if self.fit is None or self.fit.count == 0 or length == 0.0:
            return (self.curve,)
        return tuple(piece(self.curve, a / length, b / length) for a, b in self.fit.dashes)


@dataclass(frozen=True, slots=True)
class Fill:
    """A filled polygon, such as an arrowhead; its first point is the tip.

    What is `faint` is printed grey behind everything else.
    """

    points: tuple[XY, ...]
    source: str
    faint: bool = False


@dataclass(frozen=True, slots=True)
class Text:
    """One line of lettering: `at` is on the base line at the `anchor`, `angle` in degrees.

    What is `faint` is printed grey behind everything else.
    """

    text: str
    at: XY
    height: float
    source: str
    anchor: Anchor = "left"
    angle: float = 0.0
    bold: bool = False
    faint: bool = False

    @property
    def width(self) -> float:
        """Width in mm."""
        return text_width(self.text, self.height) * (1.05 if self.bold else 1.0)

    def box(self, margin: float = 0.0) -> tuple[XY, XY, XY, XY]:
        """Return the corners of the letters' box, with a margin in mm, counter-clockwise."""
        start = {"left": 0.0, "center": -0.5, "right": -1.0}[self.anchor] * self.width
        c, s = cos(radians(self.angle)), sin(radians(self.angle))
        low = -0.2 * descent(self.height) - margin
        high = self.height + margin
        left, right = start - margin, start + self.width + margin
        x, y = self.at
        corners = ((left, low), (right, low), (right, high), (left, high))
        a, b, d, e = ((x + c * u - s * v, y + s * u + c * v) for u, v in corners)
        return (a, b, d, e)


Item: TypeAlias = Stroke | Fill | Text


def arrowhead(tip: XY, towards: XY, source: str, length: float, width: float) -> Fill:
    """Return an arrowhead with its tip at `tip` that points in the direction `towards`."""
    ux, uy = normalized(towards)
    bx, by = tip[0] - length * ux, tip[1] - length * uy
    half = 0.5 * width
    return Fill((tip, (bx - half * uy, by + half * ux), (bx + half * uy, by - half * ux)), source)


def line(start: XY, end: XY, kind: str, source: str) -> Stroke:
    """Return a straight solid stroke."""
    return Stroke(Line(start, end), kind, source)


def polyline(points: Iterable[XY], kind: str, source: str) -> list[Stroke]:
    """Return straight strokes through all points."""
    at = list(points)
    return [line(a, b, kind, source) for a, b in itertools.pairwise(at)]


def shifted(item: Item, dx: float, dy: float) -> Item:
    """Return the item moved on the paper."""
    if isinstance(item, Stroke):
        return replace(item, curve=moved(item.curve, dx, dy))
    if isinstance(item, Fill):
        return replace(item, points=tuple((x + dx, y + dy) for x, y in item.points))
    return replace(item, at=(item.at[0] + dx, item.at[1] + dy))


def item_box(item: Item) -> Box:
    """Return the box around an item, line width left out."""
    if isinstance(item, Stroke):
        return bounds(item.curve)
    points = item.points if isinstance(item, Fill) else item.box()
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (min(xs), min(ys), max(xs), max(ys))


def items_box(items: Iterable[Item]) -> Box:
    """Return the box around all items; a point at the origin when there is none."""
    boxes = [item_box(item) for item in items]
    if not boxes:
        return (0.0, 0.0, 0.0, 0.0)
    return (min(b[0] for b in boxes), min(b[1] for b in boxes),
            max(b[2] for b in boxes), max(b[3] for b in boxes))


def circle_arc(center: XY, radius: float, start: float, end: float) -> Arc | Circle:
    """Return the counter-clockwise arc between two angles in radians."""
    cx, cy = center
    return Arc(center, (cx + radius * cos(start), cy + radius * sin(start)),
               (cx + radius * cos(end), cy + radius * sin(end)))
