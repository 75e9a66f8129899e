"""Curves as plain values: line, arc and circle in the part's unit.

A line is the piece between two points; functions that mean the unbounded line say so. Angles are
radians inside the core, measured counter-clockwise from the positive x direction.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import atan2, dist, hypot, pi, tau
from typing import TypeAlias

from sketcher.geometry.vectors import normalized

XY: TypeAlias = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Line:
    """The straight piece from `start` to `end`."""

    start: XY
    end: XY

    @property
    def length(self) -> float:
        """Distance between the ends."""
        return dist(self.end, self.start)

    @property
    def direction(self) -> XY:
        """Unit vector from start to end; (0, 0) for a line without length."""
        return normalized((self.end[0] - self.start[0], self.end[1] - self.start[1]))


@dataclass(frozen=True, slots=True)
class Arc:
    """The way round `center` from `start` to `end`, counter-clockwise when `ccw`.

    The ends are kept as given, so that neighbours meet bit by bit; `radius` is the mean distance
    of the two ends from the center (they agree in a solved part). Coincident ends mean a full turn.
    """

    center: XY
    start: XY
    end: XY
    ccw: bool = True
    radius: float = field(init=False, compare=False)
    start_angle: float = field(init=False, compare=False)
    sweep: float = field(init=False, compare=False)  # signed: positive counter-clockwise

    def __post_init__(self) -> None:
        cx, cy = self.center
        x0, y0, x1, y1 = self.start[0] - cx, self.start[1] - cy, self.end[0] - cx, self.end[1] - cy
        start_angle = atan2(y0, x0)
        turn = (atan2(y1, x1) - start_angle) % tau
        if turn == 0.0 or self.start == self.end:
            turn = tau
        if not self.ccw:
            # the remainder of a tiny negative angle rounds to a full turn: never a sweep of zero
            turn = (turn - tau) or -tau
        object.__setattr__(self, "radius", 0.5 * (hypot(x0, y0) + hypot(x1, y1)))
        object.__setattr__(self, "start_angle", start_angle)
        object.__setattr__(self, "sweep", turn)

    @property
    def length(self) -> float:
        """Length along the arc."""
        return self.radius * abs(self.sweep)


@dataclass(frozen=True, slots=True)
class Circle:
    """A full circle."""

    center: XY
    radius: float

    @property
    def length(self) -> float:
        """Circumference."""
        return 2.0 * pi * self.radius


Curve: TypeAlias = Line | Arc | Circle
