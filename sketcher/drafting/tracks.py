"""Tracks: the ways that center lines run along, straight or round, with the centers on them.

A track knows no dashes yet. Tracks on one straight line become one track, so that two center lines
never lie on top of each other.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import atan2, cos, hypot, pi, sin, tau
from typing import TypeAlias

import numpy as np

from sketcher.geometry.bounds import Box, bounds
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.meet import meet

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
    """A center on paper: half the length of its plus, and the gap around it, in mm."""

    at: XY
    plus: float
    gap: float

    @property
    def zone(self) -> float:
        """Radius within which no other line runs."""
        return self.plus + self.gap


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
    material; `own` holds the outlines that its ends are measured from.
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

    def curve(self) -> Curve:
        """Return the whole extent."""
        return self.carrier.curve(self.low, self.high)

    def place(self, point: XY) -> tuple[float, float]:
        """Return `s` within or nearest the extent, and the signed distance, of a point."""
        s, off = self.carrier.where(point)
        if isinstance(self.carrier, Round):
            turn = tau * self.carrier.radius
            middle = 0.5 * (self.low + self.high)
            s += turn * round((middle - s) / turn)
        return s, off


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


def merged(tracks: Sequence[Track], outer: Sequence[Curve]) -> list[Track]:
    """Make one track of all that lie on one line and overlap, or may be joined inside the part.

    Parameters
    ----------
    tracks : sequence of Track
    outer : sequence of Curve
        The outermost contour; a joining piece does not cross it.
    """
    done: list[Track] = [t for t in tracks if isinstance(t.carrier, Round)]
    boxed = [(curve, bounds(curve)) for curve in outer]
    for group in _in_line([t for t in tracks if isinstance(t.carrier, Straight)]):
        done += _joined(group, boxed)
    order = {id(t): n for n, t in enumerate(tracks)}
    return sorted(done, key=lambda t: order.get(id(t), len(order)))


def _in_line(tracks: Sequence[Track]) -> list[list[Track]]:
    """Put together straight tracks that lie on one line with the first of their group."""
    groups: list[list[Track]] = []
    firsts = np.zeros((len(tracks), 4))  # origin and direction of the first of each group
    for track in tracks:
        assert isinstance(track.carrier, Straight)
        (x, y), (bx, by) = track.carrier.origin, track.carrier.direction
        x0, y0, ax, ay = firsts[:len(groups)].T
        cross = np.abs(ax * by - ay * bx)
        off = np.abs(ax * (y - y0) - ay * (x - x0))
        far = max(abs(track.low), abs(track.high))
        homes = np.flatnonzero((cross <= 1e-4) & (off <= SAME) & (cross * far < SAME))
        if len(homes):
            groups[homes[0]].append(track)
        else:
            firsts[len(groups)] = (x, y, bx, by)
            groups.append([track])
    return groups


def _joined(group: Sequence[Track], outer: Sequence[tuple[Curve, Box]]) -> list[Track]:
    first = max(group, key=lambda t: t.rank)
    moved = sorted((_moved(t, first) for t in group), key=lambda t: t.low)
    found: list[Track] = []
    for track in moved:
        last = found[-1] if found else None
        if last is not None and (track.low < last.high + 2.0 or _joins(last, track, outer)):
            _take(last, track)
        else:
            found.append(track)
    return found


def _moved(track: Track, home: Track) -> Track:
    """Return the track on the carrier of another one that lies on the same line."""
    if track is home or not isinstance(home.carrier, Straight):
        return track
    carrier = home.carrier
    ends = [carrier.where(track.carrier.at(s))[0] for s in (track.low, track.high)]
    flipped = ends[0] > ends[1]
    nodes = [Node(carrier.where(n.hub.at)[0], n.hub, n.reach[::-1] if flipped else n.reach)
             for n in track.nodes]
    track.carrier, track.low, track.high, track.nodes = carrier, min(ends), max(ends), nodes
    return track


def _joins(a: Track, b: Track, outer: Sequence[tuple[Curve, Box]]) -> bool:
    if not (a.joins and b.joins and a.nodes and b.nodes):
        return False
    between = a.carrier.curve(a.nodes[-1].s, b.nodes[0].s)
    x0, y0, x1, y1 = bounds(between)
    return not any(
        p <= x1 and r >= x0 and q <= y1 and s >= y0 and meet(between, curve)
        for curve, (p, q, r, s) in outer)


def _take(track: Track, other: Track) -> None:
    """Let a track take another one in; the stronger one's name and line stay."""
    if (-other.rank, other.away) < (-track.rank, track.away):
        track.id, track.line, track.rank = other.id, other.line, other.rank
        track.away = other.away
    track.low, track.high = min(track.low, other.low), max(track.high, other.high)
    track.own |= other.own
    track.joins, track.full = track.joins and other.joins, track.full or other.full
    for node in other.nodes:
        same = next((n for n in track.nodes if abs(n.s - node.s) < SAME), None)
        if same is None:
            track.nodes.append(node)
        else:
            same.reach = (max(same.reach[0], node.reach[0]), max(same.reach[1], node.reach[1]))
    track.nodes.sort(key=lambda n: n.s)


def hubs_of(tracks: Iterable[Track]) -> list[Hub]:
    """Return every hub once."""
    found: dict[int, Hub] = {}
    for track in tracks:
        for node in track.nodes:
            found[id(node.hub)] = node.hub
    return list(found.values())
