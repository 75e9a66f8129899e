"""Tracks: the ways that center lines run along, straight or round, with the centers on them.

A track knows no dashes yet.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from math import atan2, cos, hypot, pi, sin, tau
from typing import TypeAlias

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line

SAME = 0.02  # mm on paper


@dataclass(frozen=True, slots=True)
class Straight:
    """An unbounded line; `s` is the distance in mm along the unit `direction`."""

    origin: XY
    direction: XY

    def at(self, s: float) -> XY:
        """Return the place at `s`."""
        return (self.origin[0] + s * self.direction[0], self.origin[1] + s * self.direction[1])

    def where(self, point: XY) -> tuple[float, float]:
        """Return `s` of the foot of a point and its signed distance."""
        x, y = point[0] - self.origin[0], point[1] - self.origin[1]
        dx, dy = self.direction
        return (x * dx + y * dy, dx * y - dy * x)

    def where_near(self, point: XY, s: float) -> tuple[float, float]:
        """Return the same as `where`: a line passes a place once."""
        return self.where(point)

    def heading(self, s: float) -> XY:
        """Return the unit direction of travel."""
        return self.direction

    def curve(self, start: float, end: float) -> Line:
        """Return the piece between two values of `s`."""
        return Line(self.at(start), self.at(end))


@dataclass(frozen=True, slots=True)
class Round:
    """A circle; `s` is the length in mm along it, counter-clockwise from +x, and may exceed it."""

    center: XY
    radius: float

    def at(self, s: float) -> XY:
        """Return the place at `s`."""
        angle = s / self.radius
        return (self.center[0] + self.radius * cos(angle),
                self.center[1] + self.radius * sin(angle))

    def where(self, point: XY) -> tuple[float, float]:
        """Return `s` (within the first turn) of the nearest place, and the distance outwards."""
        x, y = point[0] - self.center[0], point[1] - self.center[1]
        return ((atan2(y, x) % tau) * self.radius, hypot(x, y) - self.radius)

    def where_near(self, point: XY, s: float) -> tuple[float, float]:
        """Return the same as `where`, in the turn that comes nearest to a value of `s`."""
        foot, off = self.where(point)
        turn = tau * self.radius
        return foot + turn * round((s - foot) / turn), off

    def heading(self, s: float) -> XY:
        """Return the unit direction of travel."""
        angle = s / self.radius
        return (-sin(angle), cos(angle))

    def curve(self, start: float, end: float) -> Arc | Circle:
        """Return the piece between two values of `s`."""
        if end - start >= tau * self.radius - 1e-9:
            return Circle(self.center, self.radius)
        return Arc(self.center, self.at(start), self.at(end))


Carrier: TypeAlias = Straight | Round


@dataclass(slots=True)
class Hub:
    """A center on paper: half the length of its plus, and the gap around it, in mm.

    `names` are the ids of the center and of its rounds, `size` the smallest radius about it, 0 for
    none; `points` the drawn points that it stands on, `loop` the outline of the
    slot that it is an end of. A small hole has unbroken `arm`s
    in place of a plus; where such stand too close for any gap the lines run through, `solid`.
    """

    at: XY
    plus: float
    gap: float
    size: float = 0.0
    names: frozenset[str] = frozenset()
    points: frozenset[str] = frozenset()
    loop: frozenset[str] = frozenset()
    arm: float = 0.0
    solid: bool = False

    @property
    def zone(self) -> float:
        """Radius within which no other line runs."""
        return 0.0 if self.solid else self.plus + self.gap


@dataclass(slots=True)
class Node:
    """A hub on a track, and the radii of its outlines before and behind it along the track."""

    s: float
    hub: Hub
    reach: tuple[float, float] = (0.0, 0.0)


@dataclass(slots=True)
class Track:
    """The extent of one center line.

    `rank` decides whose name a merged track keeps and who gives way (greater is stronger), among
    equals `away`, which is how far its image is from the drawn curve. `full` runs through the
    whole part and never gives way; `joins` lets it be joined to others on the same line across free
    material; `own` holds the outlines that its ends are measured from; an end in `fixed` (1 for the
    upper one, -1) stands where it is; `members` are the ids of what was merged into it, each with
    its own lower and upper end; a `row` is joined across free material,
    a `boxed` one is a side of a rectangle and then no row.
    """

    id: str
    carrier: Carrier
    low: float
    high: float
    nodes: list[Node] = field(default_factory=list)
    rank: int = 0
    joins: bool = True
    closed: bool = False
    full: bool = False
    line: str = "center"
    own: set[str] = field(default_factory=set)
    away: tuple[int, bool] = (0, False)
    fixed: set[int] = field(default_factory=set)
    members: list[tuple[str, float, float]] = field(init=False)
    row: bool = False
    boxed: bool = False

    def __post_init__(self) -> None:
        self.members = [(self.id, self.low, self.high)]

    def end(self, sign: int) -> float:
        """Return `s` of the upper end for 1, of the lower one for -1."""
        return self.high if sign > 0 else self.low

    def set_end(self, sign: int, s: float) -> None:
        """Move the upper end for 1, the lower one for -1."""
        if sign > 0:
            self.high = s
        else:
            self.low = s

    def last(self, sign: int) -> Node:
        """Return the outermost node at an end."""
        return self.nodes[-1 if sign > 0 else 0]

    def member(self, sign: int) -> str:
        """Return the id of the line that reaches farthest at an end; its own id where it does."""
        best = max((sign * (high if sign > 0 else low) for _, low, high in self.members),
                   default=0.0)
        names = [name for name, low, high in self.members
                 if sign * (high if sign > 0 else low) > best - SAME]
        return self.id if self.id in names or not names else names[0]

    def curve(self) -> Curve:
        """Return the whole extent."""
        return self.carrier.curve(self.low, self.high)

    def place(self, point: XY) -> tuple[float, float]:
        """Return `s` within or nearest the extent, and the signed distance, of a point."""
        return self.carrier.where_near(point, 0.5 * (self.low + self.high))


def straight(at: XY, angle: float) -> Straight:
    """Return the carrier through a point; its direction lies in [0, 180) degrees."""
    angle = angle % pi
    if pi - angle < 1e-7:
        angle = 0.0
    dx, dy = cos(angle), sin(angle)
    if abs(dx) < 1e-12:
        dx, dy = 0.0, 1.0
    if abs(dy) < 1e-12:
        dx, dy = 1.0, 0.0
    return Straight(at, (dx, dy))


def hubs_of(tracks: Iterable[Track]) -> list[Hub]:
    """Return every hub once."""
    found: dict[int, Hub] = {}
    for track in tracks:
        for node in track.nodes:
            found[id(node.hub)] = node.hub
    return list(found.values())
