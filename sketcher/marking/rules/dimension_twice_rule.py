"""A dimension that says again what others say: the same once more, or the last of a closed chain.

Each size is stated once (ISO 129-1 and ASME Y14.5, both from memory); what follows from others
stands in parentheses. Lengths along one direction are the edges of a graph between the levels that
they run between, and so are the radii of rounds that lengths go to: one that closes a circuit
follows from it, as far as the key ties the levels together too. That a part is symmetric is not
held against a student who measures both of its sides.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot
from typing import TYPE_CHECKING

from sketcher.geometry.curves import XY, Arc, Circle, Line
from sketcher.geometry.vectors import normalized
from sketcher.marking.comparison import Comparison
from sketcher.marking.dimension_feet import Foot
from sketcher.marking.key_measures import AngleBetween, LengthBetween, PitchSize, RoundSize
from sketcher.marking.key_motions import follows
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_DIMENSIONS
from sketcher.marking.stated_dimensions import (
    StatedDimension,
    StatedDimensions,
    stated_dimensions,
)

if TYPE_CHECKING:
    from sketcher.marking.key_motions import Floats

NOTHING = 1e-9
"""Of a row, below which a length is one that the key's values leave as it is."""
SAME_WAY = 1e-3
"""Sine of the angle within which two lengths have one direction."""


class _Levels:
    """Lengths along one direction, between levels that are joined where they are one."""

    def __init__(self, way: XY, within: float) -> None:
        self.way, self.within = way, within
        self.levels: list[float] = []
        self.joined: list[int] = []
        self.rows: list[Floats] = []

    def is_along(self, way: XY) -> bool:
        """Tell whether a direction is this one."""
        return abs(self.way[0] * way[1] - self.way[1] * way[0]) <= SAME_WAY

    def closes(self, one: XY, other: XY, row: Floats) -> bool:
        """Tell whether a length closes a circuit that holds; else it is added."""
        a, b = (self._root(self._level(at)) for at in (one, other))
        if a == b and follows(row, self.rows):
            return True
        self.joined[a] = b
        self.rows.append(row)
        return False

    def _level(self, at: XY) -> int:
        where = at[0] * self.way[0] + at[1] * self.way[1]
        for n, level in enumerate(self.levels):
            if abs(level - where) <= self.within:
                return n
        self.levels.append(where)
        self.joined.append(len(self.joined))
        return len(self.levels) - 1

    def _root(self, n: int) -> int:
        while self.joined[n] != n:
            n = self.joined[n]
        return n


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the dimensions that follow from those before them in the file."""
    stated = stated_dimensions(comparison)
    if stated is None:
        return NO_DIMENSIONS
    rows = {n: stated.row(each.measure) for n, each in enumerate(stated.each)
            if each.drives and each.measure is not None}
    ways: list[_Levels] = []
    said: dict[object, str] = {}
    found = []
    for n, row in rows.items():
        each = stated.each[n]
        text = each.dimension.text
        if isinstance(each.measure, LengthBetween):
            others = [other for k, other in rows.items()
                      if k < n or not isinstance(stated.each[k].measure, LengthBetween)]
            levels = _levels(stated, ways, each.measure)
            if levels is not None and _closes(stated, levels, each.measure, row, others):
                found.append(_mistake(each, f"{text} follows from other dimensions"))
            continue
        subjects = _subjects(stated, each)
        known = next((said[of] for of in subjects if of in said), None)
        if known is not None:
            found.append(_mistake(each, f"{text} is stated already, as {known}"))
        said.update(dict.fromkeys(subjects, text))
    return tuple(sorted(found, key=lambda mistake: mistake.at))


def _levels(
    stated: StatedDimensions, ways: list[_Levels], measure: LengthBetween
) -> _Levels | None:
    """Return the levels along the direction of a length, made where it is the first."""
    way = measure.direction(stated.key)
    if way is None:
        one, other = (foot.at(stated.key) for foot in measure.feet)
        if one is None or other is None:
            return None
        way = normalized((other[0] - one[0], other[1] - one[1]))
    for known in ways:
        if known.is_along(way):
            return known
    ways.append(_Levels(way, stated.comparison.within))
    return ways[-1]


def _closes(
    stated: StatedDimensions, levels: _Levels, measure: LengthBetween, row: Floats,
    others: Sequence[Floats],
) -> bool:
    """Tell whether a length closes a circuit; else it is one more edge."""
    one, other = (foot.at(stated.key) for foot in measure.feet)
    if one is None or other is None or abs(row).max(initial=0.0) <= NOTHING:
        return False
    for foot, at in zip(measure.feet, (one, other), strict=True):
        for name, center in _rounds_through(stated, at, levels.way):
            if follows(stated.row(RoundSize(name, 1.0)), others):
                spoke = LengthBetween((Foot("center", (name,)), foot), levels.way)
                levels.closes(center, at, stated.row(spoke))
    return levels.closes(one, other, row)


def _rounds_through(stated: StatedDimensions, at: XY, way: XY) -> Iterator[tuple[str, XY]]:
    """Yield the rounds whose outermost place along a direction is met, with their centers."""
    within = stated.comparison.within
    for name, curve in stated.rounds:
        dx, dy = at[0] - curve.center[0], at[1] - curve.center[1]
        if abs(hypot(dx, dy) - curve.radius) <= within and abs(dx * way[1] - dy * way[0]) <= within:
            yield name, curve.center


def _subjects(stated: StatedDimensions, each: StatedDimension) -> list[object]:
    """Return what a round's size or an angle is said of; with a count that is all equal rounds."""
    measure = each.measure
    if isinstance(measure, RoundSize):
        curve, words = stated.key.curves[measure.piece], each.wording
        if isinstance(curve, Line):
            return []
        alike = dict.fromkeys(_size(stated, other) for _, other in stated.rounds_of(curve.radius)
                              if type(other) is type(curve))
        if words is not None and (words.everywhere or 1 < words.said.count >= len(alike)):
            return [*alike]
        return [_size(stated, curve)]
    if isinstance(measure, PitchSize):
        at = measure.center.at(stated.key) or (0.0, 0.0)
        return [("pitch", *_cell(stated, at), round((each.drawn or 0.0) / (
            measure.factor * 2.0 * stated.comparison.within)))]
    if isinstance(measure, AngleBetween) and all(side.line for side in measure.sides):
        return [(frozenset(side.line for side in measure.sides),
                 round((each.drawn or 0.0) / (2.0 * stated.comparison.within_angle)))]
    return []


def _size(stated: StatedDimensions, curve: Arc | Circle) -> tuple[int, ...]:
    return (*_cell(stated, curve.center),
            round(curve.radius / (2.0 * stated.comparison.within)))


def _cell(stated: StatedDimensions, at: XY) -> tuple[int, int]:
    side = 4.0 * stated.comparison.within
    return round(at[0] / side), round(at[1] / side)


def _mistake(each: StatedDimension, text: str) -> Mistake:
    return Mistake(each.at, each.dimension.text, f"({each.dimension.text})", text,
                   (each.dimension.number,))


RULE = MarkingRule("dimension-twice", "a size that is stated twice", 2.0, 6.0, "dimensions",
                   decide, rank=1)
