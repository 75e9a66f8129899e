"""What a number measures: a length, an angle, a product of them, or nothing yet.

A number without a unit is bare until it is added to something or reaches its field: so a parameter
needs no declared kind, and ``t/t`` in place of a length is caught.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

ZERO, ONE = Fraction(0), Fraction(1)
NAMES = {(1, 0): "a length", (0, 1): "an angle", (2, 0): "an area", (3, 0): "a volume"}


@dataclass(frozen=True, slots=True)
class PhysicalDimension:
    """Powers of length and angle.

    A number typed without a unit is `bare`: it becomes whatever it is added to, or what the field
    asks for. A ratio of two lengths or a sine is a plain number and never becomes a length.
    """

    length: Fraction = ZERO
    angle: Fraction = ZERO
    bare: bool = False

    @property
    def plain(self) -> bool:
        """True for a number without a dimension, bare or not."""
        return not self.length and not self.angle

    def times(self, other: PhysicalDimension) -> PhysicalDimension:
        """Return the dimension of a product."""
        return self._made(self.length + other.length, self.angle + other.angle, other)

    def over(self, other: PhysicalDimension) -> PhysicalDimension:
        """Return the dimension of a quotient."""
        return self._made(self.length - other.length, self.angle - other.angle, other)

    def power(self, exponent: Fraction) -> PhysicalDimension:
        """Return the dimension of a power."""
        return PhysicalDimension(self.length * exponent, self.angle * exponent, self.bare)

    def _made(
        self, length: Fraction, angle: Fraction, other: PhysicalDimension
    ) -> PhysicalDimension:
        # Bare survives a factor without dimension (2*wall, 10*sin(30)), not a unit that cancels.
        bare = self.plain and other.plain and (self.bare or other.bare)
        return PhysicalDimension(length, angle, bare)

    def __str__(self) -> str:
        if self.plain:
            return "a plain number"
        name = NAMES.get((int(self.length), int(self.angle)))
        whole = self.length.denominator == self.angle.denominator == 1
        if name and whole:
            return name
        parts = []
        if self.length:
            parts.append(f"length^{self.length}")
        if self.angle:
            parts.append(f"angle^{self.angle}")
        return " times ".join(parts)


NUMBER = PhysicalDimension()
BARE = PhysicalDimension(bare=True)
LENGTH = PhysicalDimension(length=ONE)
ANGLE = PhysicalDimension(angle=ONE)


@dataclass(frozen=True, slots=True)
class Value:
    """An evaluated quantity: lengths in the part's unit, angles in degrees."""

    amount: float
    dimension: PhysicalDimension = BARE
