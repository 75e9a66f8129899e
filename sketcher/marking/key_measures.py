"""What a dimension measures of a key, whatever values the key has."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, degrees, dist, hypot
from typing import TypeAlias

from sketcher.geometry.curves import XY, Line
from sketcher.geometry.vectors import normalized
from sketcher.marking.dimension_feet import Foot, PlacedKey


@dataclass(frozen=True, slots=True)
class LengthBetween:
    """A length between two feet, along a direction or straight.

    Parameters
    ----------
    feet : tuple of Foot
    way : (x, y) or None
        Unit direction; None for the straight distance.
    line : str
        Piece that the direction goes with: along it, or square to it where `is_square`; empty for
        a level, plumb or other fixed direction.
    """

    feet: tuple[Foot, Foot]
    way: XY | None
    line: str = ""
    is_square: bool = False

    def __call__(self, key: PlacedKey) -> float | None:
        """Return the length with other values."""
        one, other = (foot.at(key) for foot in self.feet)
        if one is None or other is None:
            return None
        dx, dy = other[0] - one[0], other[1] - one[1]
        way = self.direction(key)
        return hypot(dx, dy) if way is None else abs(dx * way[0] + dy * way[1])

    def direction(self, key: PlacedKey) -> XY | None:
        """Return the direction with other values."""
        line = key.curves.get(self.line)
        if not isinstance(line, Line):
            return self.way
        x, y = line.direction
        return (-y, x) if self.is_square else (x, y)


@dataclass(frozen=True, slots=True)
class RoundSize:
    """Radius of a piece, or its diameter with a factor of 2."""

    piece: str
    factor: float

    def __call__(self, key: PlacedKey) -> float | None:
        """Return the size with other values."""
        curve = key.curves.get(self.piece)
        return None if curve is None or isinstance(curve, Line) else self.factor * curve.radius


@dataclass(frozen=True, slots=True)
class PitchSize:
    """Radius of the circle about one foot through another, or its diameter."""

    center: Foot
    on: Foot
    factor: float

    def __call__(self, key: PlacedKey) -> float | None:
        """Return the size with other values."""
        one, other = self.center.at(key), self.on.at(key)
        return None if one is None or other is None else self.factor * dist(one, other)


@dataclass(frozen=True, slots=True)
class AngleSide:
    """One side of an angle: along a piece, through two feet, or a fixed direction."""

    line: str = ""
    feet: tuple[Foot, ...] = ()
    way: XY = (0.0, 0.0)

    def direction(self, key: PlacedKey) -> XY | None:
        """Return its direction, the sense of `way` kept."""
        if self.line:
            line = key.curves.get(self.line)
            found = line.direction if isinstance(line, Line) else None
        elif self.feet:
            one, other = (foot.at(key) for foot in self.feet)
            found = None if one is None or other is None else normalized(
                (other[0] - one[0], other[1] - one[1]))
        else:
            return self.way
        if found is None or found[0] * self.way[0] + found[1] * self.way[1] >= 0.0:
            return found
        return (-found[0], -found[1])


@dataclass(frozen=True, slots=True)
class AngleBetween:
    """Degrees from one side to another; of the four angles the one nearest to `near`."""

    sides: tuple[AngleSide, AngleSide]
    near: float

    def __call__(self, key: PlacedKey) -> float | None:
        """Return the angle with other values."""
        one, other = (side.direction(key) for side in self.sides)
        if one is None or other is None:
            return None
        turn = abs(degrees(atan2(one[0] * other[1] - one[1] * other[0],
                                 one[0] * other[0] + one[1] * other[1])))
        return min((turn, 180.0 - turn, 360.0 - turn, 180.0 + turn),
                   key=lambda each: abs(each - self.near))


SizeMeasure: TypeAlias = LengthBetween | RoundSize | PitchSize | AngleBetween
