"""What only the sketch could tell: sides that are not stored, and what each other side would cost.

Sides tell the roots of a constraint apart; choosing them is the literature's root identification.

A cost is the smallest move of the operands alone, squared, after which they stand on a side: the
first guess of how much farther from the sketch a solution with that side lies.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import radians

import numpy as np

from sketcher.geometry.curves import XY
from sketcher.part.equations import Array
from sketcher.part.kinds import KINDS, settle_sides, wanted
from sketcher.part.operand_forms import EquationRow, local
from sketcher.part.value import Binding, Part


@dataclass(frozen=True, slots=True)
class Turning:
    """What it takes to bring the operands of one binding to a side.

    Parameters
    ----------
    cost : float
        Sum of the squared moves of points and radii, in the part's unit squared.
    moved : mapping of str to (x, y)
        Where the operands' points would stand.
    """

    cost: float
    moved: Mapping[str, XY]


class Choices:
    """The sides of a part that are not stored and that the geometry has to tell.

    A side that other things in the file imply (the sense of a tangent joint follows from the
    turns of its arcs) is no choice, nor is that of a reference dimension, which drives nothing.

    Parameters
    ----------
    part : Part
        As drawn.

    Attributes
    ----------
    words : dict of str to tuple of str
        Sides that each binding could have.
    settled : dict of str to str
        Sides as the geometry stands.
    """

    def __init__(self, part: Part) -> None:
        self.part = settle_sides(part)
        self.words = {name: words for name, words in _open(part) if len(words) > 1}
        self.settled = {name: self.part.bindings[name].side or "" for name in self.words}
        self._values = {name: _value(self.part, name) for name in self.words}
        self._turnings: dict[tuple[str, str], Turning] = {}
        self._along: dict[tuple[str, str], dict[str, str]] = {}
        self._around: dict[str, tuple[str, ...]] = {}

    def having(self, sides: Mapping[str, str]) -> Part:
        """Return the part as drawn, with these sides."""
        return with_sides(self.part, sides)

    def turning(self, name: str, side: str) -> Turning:
        """Return what it takes to bring one binding to a side."""
        key = (name, side)
        if key not in self._turnings:
            self._turnings[key] = _turning(
                self.part, self.part.bindings[name], side, self._values[name])
        return self._turnings[key]

    def moved(self, sides: Mapping[str, str], part: Part, were: Mapping[str, str]) -> Part:
        """Return a part with the operands brought to those sides that are not what they were."""
        points = dict(part.points)
        for name, side in sides.items():
            if side != were[name]:
                there = part.having(points=points)
                points |= _turning(there, there.bindings[name], side, self._values[name]).moved
        return part.having(points=points)

    def extra(self, name: str, side: str, instead: str) -> float:
        """How much dearer one side is than another, as a squared length."""
        return self.turning(name, side).cost - self.turning(name, instead).cost

    def other(self, name: str, side: str) -> str:
        """Return the other one of two sides."""
        return next(word for word in self.words[name] if word != side)

    def along(self, name: str, side: str) -> dict[str, str]:
        """Sides of the neighbours that change when one binding is brought to a side, itself too.

        Two dimensions of one line often say its sense together: neither can change alone.
        """
        key = (name, side)
        if key not in self._along:
            self._along[key] = self._turned_along(name, side)
        return self._along[key]

    def _turned_along(self, name: str, side: str) -> dict[str, str]:
        turning = self.turning(name, side)
        there = self.part.having(points={**self.part.points, **turning.moved})
        found = {name: side}
        for other in self.neighbours(name):
            of = there.bindings[other].of
            now = KINDS[there.bindings[other].kind].settle(there, of, self._values[other])
            if now in self.words[other] and now != self.settled[other]:
                found[other] = now
        return found

    def neighbours(self, name: str) -> tuple[str, ...]:
        """Choices that share a point with one."""
        if not self._around:
            points = {n: frozenset(_points(self.part, self.part.bindings[n])) for n in self.words}
            users: dict[str, list[str]] = {}
            for one, names in points.items():
                for point in names:
                    users.setdefault(point, []).append(one)
            self._around = {
                one: tuple(dict.fromkeys(u for p in names for u in users[p] if u != one))
                for one, names in points.items()}
        return self._around[name]


def with_sides(part: Part, sides: Mapping[str, str]) -> Part:
    """Return the part with other sides of some bindings."""
    return part.having(bindings={
        name: replace(b, side=sides[name]) if name in sides else b
        for name, b in part.bindings.items()})


def implied(part: Part, drawn: Part) -> Part:
    """Return a solved part with the sides that follow from its geometry read there.

    Parameters
    ----------
    part : Part
        As solved.
    drawn : Part
        The same part as drawn: what has a side there keeps it, and so do its choices.
    """
    choices = dict(_open(drawn))
    follow = [name for name, b in drawn.bindings.items()
              if b.side is None and len(choices.get(name, ())) < 2]
    bare = part.having(bindings={
        name: replace(b, side=None) if name in follow else b for name, b in part.bindings.items()})
    return settle_sides(bare)


def _open(part: Part) -> Iterator[tuple[str, tuple[str, ...]]]:
    for name, binding in part.bindings.items():
        if binding.side is None and binding.drives:
            yield name, KINDS[binding.kind].choices(part, binding.of)


def _value(part: Part, name: str) -> float | None:
    """Wanted value in equation units."""
    binding = part.bindings[name]
    amount = wanted(part, binding)
    return radians(amount) if amount and KINDS[binding.kind].quantity == "angle" else amount


def _points(part: Part, binding: Binding) -> tuple[str, ...]:
    curves = part.curves
    return tuple(p for n in binding.of for p in (curves[n].points if n in curves else (n,)))


def _turning(part: Part, binding: Binding, side: str, value: float | None) -> Turning:
    kind = KINDS[binding.kind]
    cost, moved = 0.0, dict[str, XY]()
    wishes = kind.wishes(part, binding.of)
    rows = [] if kind.substitutes else kind.rows(part, binding.of, side)
    for row in (*rows, *wishes):  # a wish moves farthest: its place counts
        at, code = local(part, row), kind.code(row, side)
        if row in wishes:
            step = (row.equation.mended(at, code, np.ones(at.shape, bool)) - at)[0]
        else:
            step = _step(at, row, code, value or 0.0)
        cost += float(step @ step)
        there = (at[0] + step)[:2 * len(row.points)].reshape(-1, 2).tolist()
        moved.update(zip(row.points, map(tuple, there), strict=True))
    return Turning(cost, moved)


def _step(at: Array, row: EquationRow, code: Array, value: float) -> Array:
    """Smallest move of one row's operands that satisfies it, to first order."""
    amount = np.array([value])
    off = row.equation.residual(at, amount, code)[0]
    slope = row.equation.jacobian(at, amount, code)[0]
    return np.asarray(np.linalg.lstsq(slope, -off, rcond=None)[0])
