"""Edges, holes, openings and dimensions of a key in words that the paper lets a student find."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property
from math import hypot

from sketcher.geometry.bounds import Box, bounds_of
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import direction_at, midpoint
from sketcher.inspect.words import listed
from sketcher.marking.edge_joints import edge_joints, joint_loops
from sketcher.marking.key_shape import KeyShape
from sketcher.marking.outline_features import Feature
from sketcher.part.image_id import ImageId
from sketcher.part.operand_forms import operand_type
from sketcher.part.printed import in_fractions, length_number
from sketcher.part.value import ArcCurve, LineCurve, Part
from sketcher.part.whole import curve_value, middle
from sketcher.quantity import format as written

STRAIGHT = 1e-6
"""Sine of the angle from level or plumb below which an edge of a solved key is that."""
BAND = 0.2
"""Share of the size beyond which something is not in the middle (common practice, no source)."""
WAYS = {"run": (1.0, 0.0), "rise": (0.0, 1.0)}
"""Kinds of lengths that go along x or y, whatever they are between."""


class OutlineWords:
    """Names what a key has.

    Parameters
    ----------
    shape : KeyShape
        The key as on paper.
    key : sequence of Feature, optional
        What was drawn to, where that has other features than the paper: their sources number the
        pieces of `shape`.
    """

    def __init__(self, shape: KeyShape, key: Sequence[Feature] | None = None) -> None:
        self.shape, self.part = shape, shape.part
        self.key = tuple(shape.found if key is None else key)
        self.box = bounds_of([each.curve for each in self.key])

    # Numbers.

    def length(self, value: float) -> str:
        """Return a length as the paper would write it."""
        typed = "1/2" if self.part.unit == "in" and in_fractions(self.part) else ""
        return length_number(abs(value), self.part.unit, typed).text

    def amount(self, value: float) -> str:
        """Return how far something is off, to two figures more than is worth telling."""
        size = abs(value) * (1.0 if self.part.unit == "mm" else 25.4)
        places = (2 if size >= 0.1 else 3) + (self.part.unit == "in")
        return written.length(abs(value), self.part.unit, places, zeros=False)

    def angle(self, value: float) -> str:
        """Return an angle in degrees."""
        return written.angle(value, 2)

    def place(self, at: XY) -> str:
        """Return a place by its coordinates."""
        x, y = (written.length(v, self.part.unit, 3, zeros=False) for v in at)
        return f"({x}, {y})"

    def size(self, curve: Curve) -> str:
        """Return the size of a round as the paper writes it; the length of a line."""
        if isinstance(curve, Circle):
            return f"Ø{self.length(2.0 * curve.radius)}"
        return f"R{self.length(curve.radius)}" if isinstance(curve, Arc) else (
            self.length(curve.length))

    # Where.

    def where(self, at: XY) -> str:
        """Say in which part of the drawing a place is: ``at the lower right``."""
        x0, y0, x1, y1 = self.box
        across = (at[0] - 0.5 * (x0 + x1)) / max(x1 - x0, 1e-300)
        up = (at[1] - 0.5 * (y0 + y1)) / max(y1 - y0, 1e-300)
        side = "" if abs(across) <= BAND else "right" if across > 0.0 else "left"
        level = "" if abs(up) <= BAND else "upper" if up > 0.0 else "lower"
        if not side:
            return {"": "in the middle", "upper": "at the top", "lower": "at the bottom"}[level]
        return f"at the {level} {side}" if level else f"at the {side}"

    def away(self, step: XY) -> str:
        """Say how far something lies from its place: ``1.2 to the right of its place``."""
        least = 0.1 * hypot(*step)
        parts = []
        if abs(step[0]) > least:
            side = "right" if step[0] > 0.0 else "left"
            parts.append(f"{self.amount(step[0])} to the {side} of")
        if abs(step[1]) > least:
            parts.append(f"{self.amount(step[1])} {'above' if step[1] > 0.0 else 'below'}")
        return f"{' and '.join(parts)} its place"

    def alike(self, count: int) -> str:
        """Say that several places share a mistake, after what is said of the first."""
        return f", at {count} places alike" if count > 1 else ""

    # Features.

    @cached_property
    def _loop_of(self) -> dict[int, tuple[int, ...]]:
        """The features that hang together with each."""
        joints = edge_joints(self.key, self.shape.within)
        return {i: tuple(loop) for loop in joint_loops(len(self.key), joints) for i in loop}

    @cached_property
    def _box_of(self) -> dict[tuple[int, ...], Box]:
        """The box of each loop: one name in an opening asks for all of them."""
        return {loop: bounds_of([self.key[k].curve for k in loop])
                for loop in set(self._loop_of.values())}

    def outer(self, i: int) -> bool:
        """Tell whether a feature is of the outer contour."""
        return all(abs(a - b) <= self.shape.within
                   for a, b in zip(self._box_of[self._loop_of[i]], self.box, strict=True))

    def feature(self, i: int, sized: bool = True) -> str:
        """Return a feature by name: ``the bottom edge``, ``the hole Ø9 at the lower right``."""
        curve = self.key[i].curve
        if isinstance(curve, Circle):
            noun = "rim" if self.outer(i) else "hole"
            size = f" {self.size(curve)}" if sized else ""
            alone = sum(isinstance(each.curve, Circle) and (
                not sized or abs(each.curve.radius - curve.radius) <= self.shape.within)
                for each in self.key) == 1
            return f"the {noun}{size}" + ("" if alone else f" {self.where(curve.center)}")
        of = "" if self.outer(i) else f" of {self.opening(i)}"
        if isinstance(curve, Arc):
            size = f" {self.size(curve)}" if sized else ""
            return f"the arc{size}{of or ' ' + self.where(midpoint(curve))}"
        return self._edge(i, curve, of)

    def _edge(self, i: int, curve: Line, of: str) -> str:
        x, y = curve.direction
        x0, y0, x1, y1 = self._box_of[self._loop_of[i]]
        at = midpoint(curve)
        near = self.shape.within
        where = of or f" {self.where(at)}"
        for straight, value, low, high, names in (
                (abs(y) <= STRAIGHT, at[1], y0, y1, ("bottom", "top", "level")),
                (abs(x) <= STRAIGHT, at[0], x0, x1, ("left", "right", "plumb"))):
            if straight and abs(value - low) <= near:
                return f"the {names[0]} edge{of}"
            if straight and abs(value - high) <= near:
                return f"the {names[1]} edge{of}"
            if straight:
                return f"the {names[2]} edge{where}"
        return f"the slanting edge{where}"

    def opening(self, i: int) -> str:
        """Return the opening whose loop a feature is in: ``the opening at the top``."""
        loops = [each for each in self._box_of if len(each) > 1 and not self.outer(each[0])]
        x0, y0, x1, y1 = self._box_of[self._loop_of[i]]
        where = self.where((0.5 * (x0 + x1), 0.5 * (y0 + y1)))
        return "the opening" if len(loops) == 1 else f"the opening {where}"

    def loop(self, i: int) -> str:
        """Return the loop that a feature is in by name: an opening, or the outer contour."""
        return "the outer contour" if self.outer(i) else self.opening(i)

    def features(self, numbers: Iterable[int]) -> str:
        """Return some features by name, one after the other."""
        return listed(dict.fromkeys(self.feature(i) for i in numbers))

    # Operands of bindings.

    def number_of(self, name: str) -> int | None:
        """Return the feature that an outline curve of the half is in; None for layout and axes."""
        curve = self.part.curves[name]
        if curve.role != "outline":
            return None
        return next((i for i, each in enumerate(self.key) for n in each.sources
                     if self.shape.pieces[n].image == ImageId(name)), None)

    def of_curve(self, name: str) -> str:
        """Return a curve of the half by name."""
        curve = self.part.curves[name]
        if isinstance(curve, LineCurve) and curve.role == "axis":
            return "the axis"
        found = self.number_of(name)
        if found is None:
            return f"the layout line {self.where(middle(curve_value(self.part, curve)))}"
        return self.feature(found)

    def of_point(self, name: str, square: XY = (0.0, 0.0)) -> str:
        """Return a point of the half by name; `square` is the direction in which a length goes.

        A length is taken to an edge that lies across it, where one ends at the point.
        """
        rounds = [curve_id for curve_id, curve in self.part.curves.items()
                  if not isinstance(curve, LineCurve) and curve.role == "outline"
                  and curve.center == name]
        if rounds:  # a hole is seen to be centered more than an arc around it
            return self.of_curve(min(
                rounds, key=lambda each: isinstance(self.part.curves[each], ArcCurve)))
        ends = {curve_id: curve for role, sort in (
                    ("axis", LineCurve), ("outline", LineCurve), ("outline", ArcCurve))
                for curve_id, curve in self.part.curves.items()
                if curve.role == role and isinstance(curve, sort) and name in curve.ends}
        at = self.part.points[name]
        for curve_id in ends:
            x, y = direction_at(curve_value(self.part, self.part.curves[curve_id]), at)
            if square != (0.0, 0.0) and abs(x * square[0] + y * square[1]) <= STRAIGHT:
                return self.of_curve(curve_id)
        drawn = any(curve.role == "outline" for curve in ends.values())
        return f"the {'corner' if drawn else 'sharp corner'} {self.where(at)}"

    def operand(self, name: str, square: XY = (0.0, 0.0)) -> str:
        """Return an operand of a binding by name; `square` as in `of_point`."""
        if operand_type(self.part, name) == "point":
            return self.of_point(name, square)
        return self.of_curve(name)

    def between(self, kind: str, of: Sequence[str]) -> str:
        """Say between which things a length is taken: ``from the axis to the hole Ø9``."""
        if len(of) == 1:
            return f"along {self.operand(of[0])}"
        square = WAYS.get(kind, (0.0, 0.0))
        base = self.part.curves.get(of[0])
        if isinstance(base, LineCurve):
            x, y = direction_at(curve_value(self.part, base), (0.0, 0.0))
            square = (-y, x)
        one, other = (self.operand(name, square) for name in of[:2])
        return f"from {one} to {other}"


def operand_place(part: Part, of: Sequence[str]) -> XY:
    """Return where to look at what a binding is about: its last operand."""
    name = of[-1]
    if name in part.points:
        return part.points[name]
    return middle(curve_value(part, part.curves[name]))
