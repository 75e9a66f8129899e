"""Words that kinds use to say, at the drawing board, what they make of points, lines and radii.

`Condition` is what a kind is asked about, `Words` what it can ask in turn: values as the part's
unit prints them, names, and on which side things lie.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Set
from math import hypot
from typing import Literal, Protocol, TypeAlias

from sketcher.geometry.curves import XY
from sketcher.part.operand_forms import radius_of, round_center
from sketcher.part.value import LineCurve, Part
from sketcher.quantity.format import length as length_text

PLACES = 3  # decimals of a computed place: more than a scriber resolves
SLANT = 0.38  # sine of 22.5 degrees: below it a direction is called by one word

Role: TypeAlias = Literal["row", "held", "touch", "end", "choice"]
"""An equation of a binding, a place that it gives, the distance part of a tangency; the end of a
curve, and what nothing says."""


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


def bearing(dx: float, dy: float, what: str) -> str:
    """Return ``above e1``, ``to the left of e1`` or both for a direction, seen from `what`."""
    size = hypot(dx, dy)
    words = []
    if abs(dy) > SLANT * size:
        words.append("above" if dy > 0 else "below")
    if abs(dx) > SLANT * size:
        words.append(f"to the {'right' if dx > 0 else 'left'} of")
    return f"{' and '.join(words) or 'on'} {what}"


class Words(ABC):
    """What can be said of one solved part.

    Parameters
    ----------
    part : Part
    drawn : set of str
        Curves that the reader has drawn already; kept up to date by the owner of the set.
    """

    def __init__(self, part: Part, drawn: Set[str]) -> None:
        self.part, self.drawn = part, drawn

    @abstractmethod
    def value(self, owner: str) -> str:
        """Value of a dimension, with its expression where that says more."""

    # Values.

    def number(self, amount: float) -> str:
        """Length as the unit's practice prints it."""
        return length_text(abs(amount), self.part.unit, PLACES, zeros=False)

    def place(self, point: str) -> str:
        """Coordinates of a point."""
        unit = self.part.unit
        x, y = (length_text(v, unit, PLACES, zeros=False) for v in self.part.points[point])
        return f"({x}, {y})"

    # Where things lie.

    def line(self, name: str) -> tuple[XY, XY]:
        """Ends of a line."""
        curve = self.part.curves[name]
        assert isinstance(curve, LineCurve)
        return self.part.points[curve.ends[0]], self.part.points[curve.ends[1]]

    def beside(self, line: str, at: XY) -> str:
        """On which side of a line a place lies."""
        (ax, ay), (bx, by) = self.line(line)
        cross = (bx - ax) * (at[1] - ay) - (by - ay) * (at[0] - ax)
        sense = 1.0 if cross > 0 else -1.0
        return bearing(-sense * (by - ay), sense * (bx - ax), "it")

    def middle(self, line: str) -> XY:
        """Middle of a line."""
        (ax, ay), (bx, by) = self.line(line)
        return (0.5 * (ax + bx), 0.5 * (ay + by))

    def is_line(self, name: str) -> bool:
        """Whether an id is that of a line."""
        return isinstance(self.part.curves.get(name), LineCurve)

    # Names.

    def of(self, condition: Condition) -> tuple[str, ...]:
        """Operands of the binding behind a condition; the curve itself for an end."""
        binding = self.part.bindings.get(condition.owner)
        return binding.of if binding is not None else (condition.owner,)

    def round(self, name: str) -> str:
        """A round by its id, with center and radius while it is not drawn."""
        if name in self.drawn:
            return name
        return f"{name} (R{self.radius(name)} about {round_center(self.part, name)})"

    def radius(self, name: str) -> str:
        """Radius of a round as a number."""
        return self.number(radius_of(self.part, name))

    def other(self, condition: Condition, point: str) -> str:
        """First point of a condition that is not the given one."""
        rest = [p for p in condition.points if p != point]
        return rest[0] if rest else point

    def others(self, condition: Condition, name: str) -> list[str]:
        """Curves among the operands that are not the given one."""
        return [n for n in self.of(condition) if n != name and n in self.part.curves]


# Phrases that more than one kind has.


def on_curve(words: Words, condition: Condition, curve: str, point: str) -> str | None:
    """Return the locus of a point that lies on a curve, or of the center of that curve."""
    if words.is_line(curve):
        return f"the line {curve}" if point == condition.points[-1] else None
    if point == round_center(words.part, curve):
        return f"the circle of {words.radius(curve)} about {condition.points[0]} " \
            f"(radius of {curve})"
    return f"the circle of {words.round(curve)}"


def passing(condition: Condition) -> str:
    """Return the course of a line that goes through a known point."""
    return f"through {condition.points[-1]}"


def reaching(words: Words, condition: Condition, name: str) -> str:
    """Return the opening of the compass for a circle through a known point."""
    return f"R{words.radius(name)}, so that it passes through {condition.points[0]}"


def line_through(words: Words, condition: Condition, point: str, way: str) -> str:
    """Return the level or plumb line through the other point."""
    return f"the {way} line through {words.other(condition, point)}"


def line_beside(words: Words, condition: Condition, point: str, axis: int) -> str:
    """Return the plumb line (axis 0) or level line (axis 1) at a value from the other point."""
    other, at = words.other(condition, point), words.part.points
    step = at[point][axis] - at[other][axis]
    where = bearing(0.0, step, other) if axis else bearing(step, 0.0, other)
    return f"the {('plumb', 'level')[axis]} line {words.value(condition.owner)} {where}"


def along_axis(words: Words, condition: Condition, axis: int) -> str | None:
    """Return plumb for a run (axis 0) of nothing, level for a rise of nothing; else None."""
    nothing = words.value(condition.owner).split()[0] == "0"
    return ("plumb", "level")[axis] if nothing else None


def same_radius(words: Words, condition: Condition, name: str) -> str:
    """Return the opening of the compass for a radius taken from another round."""
    return f"R{words.radius(name)}, the radius of {words.others(condition, name)[0]}"
