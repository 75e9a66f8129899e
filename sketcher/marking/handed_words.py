"""Curves, points and values of a handed-in part file in the words of the key's paper.

A student sees edges and holes; the names that the file has for them stand nowhere on paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from sketcher.geometry.curves import XY, Arc, Circle, Curve
from sketcher.geometry.evaluate import direction_at, midpoint
from sketcher.inspect.words import listed
from sketcher.marking.comparison import Comparison
from sketcher.marking.outline_words import STRAIGHT, WAYS
from sketcher.part.kinds import KINDS
from sketcher.part.operand_forms import operand_type
from sketcher.part.value import LineCurve, Part
from sketcher.part.whole import curve_value, whole

MOST_NAMED = 3
"""Names in a sentence."""


class HandedWords:
    """Names what a part file has.

    Parameters
    ----------
    comparison : Comparison
    part : Part
        Of its hand-in, solved.
    """

    def __init__(self, comparison: Comparison, part: Part) -> None:
        self.comparison, self.part = comparison, part
        self.words = comparison.pieces.words

    @cached_property
    def _keys(self) -> dict[str, int]:
        """The feature of what was to be drawn that each outline curve of the file is."""
        entities = {piece.id: number for number, piece in enumerate(
            (p for p in whole(self.part) if p.role == "outline"), 1)}
        numbers = {each.entity: n for n, each in enumerate(self.comparison.outline)}
        features = {n: j for j, each in enumerate(self.comparison.features) for n in each.sources}
        keys = {j: i for i, j in self.comparison.matching.pairs}
        found = {}
        for name, entity in entities.items():
            key = keys.get(features.get(numbers.get(entity, -1), -1))
            if key is not None:
                found[name] = key
        return found

    def curve(self, name: str) -> str:
        """Return a curve by name; `name` may be that of an image."""
        if name in self._keys:
            return self.words.feature(self._keys[name])
        curve = self.part.curves.get(name)
        if curve is None:
            return next((self._plain(piece.curve) for piece in whole(self.part)
                         if piece.id == name), "a curve")
        if curve.role == "axis":
            return "the axis"
        noun = "layout " if curve.role == "layout" else ""
        return self._plain(curve_value(self.part, curve), noun)

    def _plain(self, curve: Curve, noun: str = "") -> str:
        laid = self.comparison.pose.curve(curve)
        if isinstance(laid, Circle):
            where = self.words.where(laid.center)
            return f"the {noun}circle {self.words.size(laid)} {where}" if noun else (
                f"the hole {self.words.size(laid)} {where}")
        where = self.words.where(midpoint(laid))
        return f"the {noun}arc {self.words.size(laid)} {where}" if isinstance(laid, Arc) else (
            f"the {noun or 'straight '}line {where}")

    def point(self, name: str, square: XY = (0.0, 0.0)) -> str:
        """Return a point by what it is the center or a corner of.

        A length in the direction `square` is taken to a line across it, where one ends there.
        """
        rounds = [n for n, curve in self.part.curves.items()
                  if not isinstance(curve, LineCurve) and curve.center == name]
        if rounds:
            return self.curve(rounds[0])
        for curve_id, line in self.part.curves.items():
            if isinstance(line, LineCurve) and name in line.ends and line.role != "layout":
                x, y = direction_at(curve_value(self.part, line), self.part.points[name])
                if square != (0.0, 0.0) and abs(x * square[0] + y * square[1]) <= STRAIGHT:
                    return self.curve(curve_id)
        ends = [curve.role for curve in self.part.curves.values()
                if not isinstance(curve, LineCurve) or name in curve.ends
                if name in curve.points]
        noun = "corner" if "outline" in ends else "layout point"
        return f"the {noun} {self._where(self.part.points[name])}"

    def _where(self, at: XY) -> str:
        return self.words.where(self.comparison.laid_point(at))

    def value(self, name: str) -> str:
        """Return what a binding's value, or a parameter, is: ``the run from ... to ...``."""
        if name not in self.part.bindings:
            return f"the parameter {name}"
        binding = self.part.bindings[name]
        square = WAYS.get(binding.kind, (0.0, 0.0))
        names = [self.point(of, square) if operand_type(self.part, of) == "point"
                 else self.curve(of) for of in binding.of]
        noun = "length" if binding.kind == "distance" else binding.kind
        if len(names) == 1:
            return f"the {noun} of {names[0]}"
        between = "between" if KINDS[binding.kind].quantity == "angle" else "from"
        return f"the {noun} {between} {names[0]} {'and' if between == 'between' else 'to'} " + (
            names[1])

    def loose(self, group: Sequence[str]) -> str:
        """Say what of a group of loose points and circles can still move."""
        inside = set(group)
        curves = {n: c for n, c in self.part.curves.items() if inside & {n, *c.points}}
        if set(curves) == inside:
            names = [f"the size of {self.curve(n)}" for n in curves]
            return f"{_listed(names)} is still free"
        moved = [n for n, c in curves.items() if (
            c.center in inside if not isinstance(c, LineCurve) else inside >= set(c.ends))]
        names = [self.curve(n) for n in moved] or [
            f"an end of {self.curve(n)}" for n in curves] or [self.point(n) for n in group]
        return f"{_listed(names)} can still move"


def _listed(names: Sequence[str]) -> str:
    different = list(dict.fromkeys(names))
    if len(different) > MOST_NAMED:
        return f"{', '.join(different[:MOST_NAMED])} and more"
    return listed(different)
