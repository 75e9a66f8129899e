"""What a dimension of the paper measures on a drawing, and what it comes to on the key."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, degrees, dist, hypot, tau
from typing import Protocol

from sketcher.board.exercise.paper_feet import LEVEL, EdgeFoot, PaperFoot, Placed, RimFoot
from sketcher.geometry.curves import XY, Line
from sketcher.geometry.project import signed_distance
from sketcher.geometry.vectors import normalized

STRAIGHT = 1e-6
"""Component of a unit direction below which it is level or plumb."""


@dataclass(frozen=True, slots=True)
class ProbeReading:
    """What was measured; `is_soft` where it was taken to the bare end of a curve."""

    amount: float
    is_soft: bool = False


class Probe(Protocol):
    """Measures one thing of a drawing."""

    def read(self, placed: Placed) -> ProbeReading | None:
        """Return the amount in the key's unit or degrees; None while it is not all there."""


@dataclass(frozen=True, slots=True)
class LengthProbe:
    """A length between two places.

    Parameters
    ----------
    ends : pair of tuple of PaperFoot
        For each end the ways to find it, the surest first.
    way : (x, y)
        Unit direction on the paper.
    is_true : bool
        It is the straight distance of its places, not one along level or plumb.
    """

    ends: tuple[tuple[PaperFoot, ...], tuple[PaperFoot, ...]]
    way: XY
    is_true: bool = False

    def read(self, placed: Placed) -> ProbeReading | None:
        """Return the length."""
        one, other = (next((foot for foot in feet if foot.at(placed) is not None), None)
                      for feet in self.ends)
        if one is None or other is None:
            return None
        soft = one.is_soft or other.is_soft
        for edge, far in ((one, other), (other, one)):
            line = edge.line(placed) if isinstance(edge, EdgeFoot) else None
            if line is not None:
                x, y = line.direction
                place = (far.towards(placed, (-y, x)) if isinstance(far, RimFoot)
                         else far.at(placed))
                assert place is not None
                return ProbeReading(abs(signed_distance(line, place)), soft)
        a, b = one.at(placed), other.at(placed)
        assert a is not None
        assert b is not None
        dx, dy = b[0] - a[0], b[1] - a[1]
        along = abs(dx * self.way[0] + dy * self.way[1])
        return ProbeReading(hypot(dx, dy) if self.is_true else along, soft)


@dataclass(frozen=True, slots=True)
class GapProbe:
    """What lies between two rounds on the line of their centers.

    Parameters
    ----------
    rounds : (int, int)
    beside : bool
        They lie beside each other; else one lies within the other.
    """

    rounds: tuple[int, int]
    beside: bool

    def read(self, placed: Placed) -> ProbeReading | None:
        """Return the gap."""
        one, other = (placed.get(n) for n in self.rounds)
        if one is None or other is None or isinstance(one, Line) or isinstance(other, Line):
            return None
        apart = dist(one.center, other.center)
        if self.beside:
            return ProbeReading(apart - one.radius - other.radius)
        return ProbeReading(abs(one.radius - other.radius) - apart)


@dataclass(frozen=True, slots=True)
class SizeProbe:
    """Radius of a round, or its diameter with a factor of 2."""

    feature: int
    factor: float

    def read(self, placed: Placed) -> ProbeReading | None:
        """Return the size."""
        curve = placed.get(self.feature)
        return None if curve is None or isinstance(curve, Line) else (
            ProbeReading(self.factor * curve.radius))


@dataclass(frozen=True, slots=True)
class PitchProbe:
    """Radius or diameter of the circle about a place on which another place lies."""

    center: tuple[PaperFoot, ...]
    on: PaperFoot
    factor: float

    def read(self, placed: Placed) -> ProbeReading | None:
        """Return the size."""
        center, on = first_place(self.center, placed), self.on.at(placed)
        return None if center is None or on is None else (
            ProbeReading(self.factor * dist(center, on)))


@dataclass(frozen=True, slots=True)
class SpreadProbe:
    """The angle at a center from one hole to the next of a ring, whichever of them that is.

    Parameters
    ----------
    center : tuple of PaperFoot
    holes : tuple of PaperFoot
        All of the ring.
    which : int
        Number of the hole that is looked at.
    """

    center: tuple[PaperFoot, ...]
    holes: tuple[PaperFoot, ...]
    which: int

    def read(self, placed: Placed) -> ProbeReading | None:
        """Return the angle to the next hole counter-clockwise, in degrees."""
        center = first_place(self.center, placed)
        places = [foot.at(placed) for foot in self.holes]
        if center is None or any(at is None for at in places):
            return None
        turns = [atan2(at[1] - center[1], at[0] - center[0]) for at in places if at is not None]
        mine = turns[self.which]
        # a hole that lies on this one is as far away as can be: it is none of another place
        others = [(turn - mine) % tau for k, turn in enumerate(turns) if k != self.which]
        return ProbeReading(degrees(min(others, default=tau)))


@dataclass(frozen=True, slots=True)
class RayFeet:
    """A side of an angle: along a line, from place to place, or level or plumb as it is.

    Parameters
    ----------
    way : (x, y)
        Unit direction on the paper; the sense that is kept.
    lines : tuple of int
        Features that may show it.
    places : tuple of pairs of tuple of PaperFoot
        Pairs of places that may show it.
    fixed : bool
        Where nothing of it is drawn it is the paper's own level or plumb.
    """

    way: XY
    lines: tuple[int, ...] = ()
    places: tuple[tuple[tuple[PaperFoot, ...], tuple[PaperFoot, ...]], ...] = ()
    fixed: bool = False

    def direction(self, placed: Placed) -> XY | None:
        """Return its direction on a drawing."""
        found = self._seen(placed)
        if found is None:
            return self._as_level(placed) if self.fixed else None
        along = found[0] * self.way[0] + found[1] * self.way[1]
        return found if along >= 0.0 else (-found[0], -found[1])

    def _as_level(self, placed: Placed) -> XY:
        """Return the paper's level or plumb as the drawing has it, which may lie turned."""
        level, (x, y) = placed.get(LEVEL), self.way
        if not isinstance(level, Line):
            return self.way
        c, s = level.direction
        return (c * x - s * y, s * x + c * y)

    def _seen(self, placed: Placed) -> XY | None:
        for number in self.lines:
            curve = placed.get(number)
            if isinstance(curve, Line):
                return curve.direction
        for pair in self.places:
            a, b = (first_place(feet, placed) for feet in pair)
            if a is not None and b is not None and a != b:
                return normalized((b[0] - a[0], b[1] - a[1]))
        return None


@dataclass(frozen=True, slots=True)
class AngleProbe:
    """Degrees between two sides, from 0 to 180."""

    sides: tuple[RayFeet, RayFeet]

    def read(self, placed: Placed) -> ProbeReading | None:
        """Return the angle."""
        one, other = (side.direction(placed) for side in self.sides)
        if one is None or other is None:
            return None
        return ProbeReading(degrees(abs(atan2(one[0] * other[1] - one[1] * other[0],
                                              one[0] * other[0] + one[1] * other[1]))))


@dataclass(frozen=True, slots=True)
class TouchProbe:
    """By what two features miss touching each other.

    Parameters
    ----------
    features : (int, int)
    sense : float
        Of two rounds: 1 where they touch from outside, -1 where one lies within the other.
    """

    features: tuple[int, int]
    sense: float = 1.0

    def read(self, placed: Placed) -> ProbeReading | None:
        """Return the amount; 0 where they touch."""
        one, other = (placed.get(n) for n in self.features)
        if one is None or other is None:
            return None
        if isinstance(other, Line):
            one, other = other, one
        if isinstance(other, Line):
            return None
        if isinstance(one, Line):
            return ProbeReading(abs(abs(signed_distance(one, other.center)) - other.radius))
        apart = dist(one.center, other.center)
        return ProbeReading(abs(apart - abs(one.radius + self.sense * other.radius)))


def first_place(feet: Sequence[PaperFoot], placed: Placed) -> XY | None:
    """Return the place by the first of some feet that is there."""
    return next((at for foot in feet if (at := foot.at(placed)) is not None), None)


def is_straight(way: XY) -> bool:
    """Tell whether a direction is level or plumb."""
    return min(abs(way[0]), abs(way[1])) <= STRAIGHT

