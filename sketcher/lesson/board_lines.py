"""Lines and circles on the slate, and where they cross."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, dist, pi, sin, sqrt

from sketcher.geometry.curves import XY


@dataclass(frozen=True, slots=True)
class BoardLine:
    """A line without ends: a place on it and its direction, of length 1."""

    at: XY
    along: XY

    @property
    def square(self) -> XY:
        """Direction a quarter turn counter-clockwise."""
        return (-self.along[1], self.along[0])

    def offset(self, place: XY) -> float:
        """Distance of a place, positive to the left of the direction."""
        return ((place[0] - self.at[0]) * self.square[0]
                + (place[1] - self.at[1]) * self.square[1])

    def foot(self, place: XY) -> XY:
        """Return the place on the line square below another."""
        away = self.offset(place)
        return (place[0] - away * self.square[0], place[1] - away * self.square[1])

    def beyond(self, place: XY, by: float) -> XY:
        """Return the place so far along from another."""
        return (place[0] + by * self.along[0], place[1] + by * self.along[1])


@dataclass(frozen=True, slots=True)
class Ring:
    """A whole circle about a named center."""

    center: str
    at: XY
    radius: float
    free: bool = False
    """Swung with any opening: what crosses it lies somewhere, not at a measured distance."""

    @property
    def rightmost(self) -> XY:
        """Place by which it is kept: rings about one center may be many, and few go through it."""
        return (self.at[0] + self.radius, self.at[1])


def straight(one: XY, other: XY) -> BoardLine:
    """Return the line through two places."""
    apart = dist(one, other)
    return BoardLine(one, ((other[0] - one[0]) / apart, (other[1] - one[1]) / apart))


def ends_in_picture(size: float, line: BoardLine, *through: XY) -> tuple[XY, XY]:
    """Return the ends of a line in a picture: a little beyond what it goes through."""
    more = 0.06 * size
    along = [(x - line.at[0]) * line.along[0] + (y - line.at[1]) * line.along[1]
             for x, y in through]
    if max(along) - min(along) < 2.0 * more:
        more *= 3.0
    return (line.beyond(line.at, min(along) - more), line.beyond(line.at, max(along) + more))


def crossings(a: BoardLine | Ring, b: BoardLine | Ring) -> list[XY]:
    """Return where two things cross, nothing where they only touch or miss."""
    if isinstance(a, BoardLine):
        return line_with_line(a, b) if isinstance(b, BoardLine) else line_with_ring(a, b)
    return line_with_ring(b, a) if isinstance(b, BoardLine) else ring_with_ring(a, b)


def line_with_line(a: BoardLine, b: BoardLine) -> list[XY]:
    """Place where two lines cross; none where they are parallel."""
    cross = a.along[0] * b.along[1] - a.along[1] * b.along[0]
    if abs(cross) < 1e-9:
        return []
    by = ((b.at[0] - a.at[0]) * b.along[1] - (b.at[1] - a.at[1]) * b.along[0]) / cross
    return [a.beyond(a.at, by)]


def line_with_ring(line: BoardLine, ring: Ring) -> list[XY]:
    """Two places where a line cuts a circle."""
    away = line.offset(ring.at)
    half = ring.radius * ring.radius - away * away
    if half <= (1e-6 * ring.radius) ** 2:
        return []
    foot, half = line.foot(ring.at), sqrt(half)
    return [line.beyond(foot, half), line.beyond(foot, -half)]


def ring_with_ring(a: Ring, b: Ring) -> list[XY]:
    """Two places where two circles cut each other."""
    apart = dist(a.at, b.at)
    if apart == 0.0:
        return []
    axis = straight(a.at, b.at)
    along = (apart * apart + (a.radius - b.radius) * (a.radius + b.radius)) / (2.0 * apart)
    half = (a.radius - along) * (a.radius + along)
    if half <= (1e-6 * max(a.radius, b.radius)) ** 2:
        return []
    x, y = axis.beyond(a.at, along)
    (nx, ny), half = axis.square, sqrt(half)
    return [(x + half * nx, y + half * ny), (x - half * nx, y - half * ny)]


def turned(along: XY, degrees: float) -> XY:
    """Direction turned counter-clockwise."""
    c, s = cos(degrees * pi / 180.0), sin(degrees * pi / 180.0)
    return (c * along[0] - s * along[1], s * along[0] + c * along[1])
