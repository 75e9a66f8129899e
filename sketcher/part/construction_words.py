"""What kinds ask to say, at the drawing board, what they make of points, lines and radii.

`Condition` is what a kind is asked about, `Words` what it can ask in turn: amounts as the paper has
them, and how things lie. What a kind answers are the values of `loci`.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from math import atan2, degrees, dist
from typing import Literal, Protocol, TypeAlias

from sketcher.geometry.curves import XY
from sketcher.part.loci import (
    Amount,
    Axis,
    Beside,
    Locus,
    OnCurve,
    Passing,
    PlumbOrLevel,
    Reaching,
    RoundAbout,
)
from sketcher.part.operand_forms import radius_of, round_center
from sketcher.part.value import LineCurve, Part

Role: TypeAlias = Literal["row", "held", "touch", "end", "choice", "worked out"]
"""An equation of a binding, a place that it gives, the distance part of a tangency; the end of a
curve, what nothing says, and a length worked out from several of the paper's."""


class Condition(Protocol):
    """One condition of a construction."""

    @property
    def owner(self) -> str:
        """Binding id, or the curve whose end it is."""

    @property
    def points(self) -> tuple[str, ...]:
        """Points of its equation, in the equation's order."""

    @property
    def role(self) -> Role:
        """What the condition is of its owner."""


class Words(ABC):
    """What can be said of one solved part.

    Parameters
    ----------
    part : Part
    """

    def __init__(self, part: Part) -> None:
        self.part = part

    # Amounts.

    @abstractmethod
    def amount(self, owner: str) -> Amount:
        """Value of a dimension of a length, as the paper has it."""

    @abstractmethod
    def angle(self, owner: str) -> tuple[float, str]:
        """Value of a dimension of an angle in degrees, and its text."""

    @abstractmethod
    def radius(self, name: str) -> Amount:
        """Radius of a round by what has given it."""

    @abstractmethod
    def worked_out(
        self, size: float, terms: tuple[tuple[int, Amount], ...], reason: str
    ) -> Amount:
        """Sum of amounts, each with its sign, and what they are."""

    @abstractmethod
    def half(self, amount: Amount, sign: str = "") -> Amount:
        """Half of an amount, before whose number a sign such as Ø stands."""

    @abstractmethod
    def span(self, one: str, other: str, /, reason: str = "") -> Amount:
        """Distance of two points, taken with the compass."""

    # Where things lie.

    def line(self, name: str) -> tuple[XY, XY]:
        """Ends of a line."""
        curve = self.part.curves[name]
        assert isinstance(curve, LineCurve)
        return self.part.points[curve.ends[0]], self.part.points[curve.ends[1]]

    def middle(self, line: str) -> XY:
        """Middle of a line."""
        (ax, ay), (bx, by) = self.line(line)
        return (0.5 * (ax + bx), 0.5 * (ay + by))

    def is_line(self, name: str) -> bool:
        """Whether an id is that of a line."""
        return isinstance(self.part.curves.get(name), LineCurve)

    def apart(self, one: str, other: str) -> float:
        """Distance of the centers of two rounds."""
        return dist(*(self.part.points[round_center(self.part, n)] for n in (one, other)))

    def turned(self, line: str, base: str, owner: str) -> tuple[float, str]:
        """Angle of a dimension, counter-clockwise from a line (level without one) to another.

        Both lines taken as they run to the right; between 0 and 180 degrees, with its text.
        """
        amount, text = self.angle(owner)
        stands = self.slant(line) - (self.slant(base) if base else 0.0)
        return min((amount % 180.0, -amount % 180.0),
                   key=lambda a: abs((a - stands + 90.0) % 180.0 - 90.0)), text

    def slant(self, line: str) -> float:
        """Angle of a line to level in degrees."""
        (ax, ay), (bx, by) = self.line(line)
        return degrees(atan2(by - ay, bx - ax))

    # Names.

    def of(self, condition: Condition) -> tuple[str, ...]:
        """Operands of the binding behind a condition; the curve itself for an end."""
        binding = self.part.bindings.get(condition.owner)
        return binding.of if binding is not None else (condition.owner,)

    def size(self, name: str) -> float:
        """Radius of a round as a number."""
        return radius_of(self.part, name)

    def center(self, name: str) -> str:
        """Center of a round."""
        return round_center(self.part, name)

    def other(self, condition: Condition, point: str) -> str:
        """First point of a condition that is not the given one."""
        rest = [p for p in condition.points if p != point]
        return rest[0] if rest else point

    def others(self, condition: Condition, name: str) -> list[str]:
        """Curves among the operands that are not the given one."""
        return [n for n in self.of(condition) if n != name and n in self.part.curves]


# Answers that more than one kind has.


def on_curve(words: Words, condition: Condition, curve: str, point: str) -> Locus | None:
    """Return the locus of a point that lies on a curve, or of the center of that curve."""
    if words.is_line(curve):
        return OnCurve(curve) if point == condition.points[-1] else None
    if point == words.center(curve):
        return RoundAbout(condition.points[0], words.radius(curve))
    return OnCurve(curve)


def passing(condition: Condition) -> Passing:
    """Return the course of a line that goes through a point."""
    return Passing(condition.points[-1])


def reaching(condition: Condition) -> Reaching:
    """Return the opening of the compass for a circle through a point."""
    return Reaching(condition.points[0])


def line_beside(words: Words, condition: Condition, point: str, axis: Axis) -> Beside:
    """Return the plumb line (axis 0) or level line (axis 1) at a value from the other point."""
    other, at = words.other(condition, point), words.part.points
    step = at[point][axis] - at[other][axis]
    amount = words.amount(condition.owner)
    return Beside(other, axis, amount if amount.size else None, 1.0 if step > 0.0 else -1.0)


def along_axis(words: Words, condition: Condition, axis: Axis) -> PlumbOrLevel | None:
    """Return plumb for a run (axis 0) of nothing, level for a rise of nothing; else None."""
    return None if words.amount(condition.owner).size else PlumbOrLevel(axis)
