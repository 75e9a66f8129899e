"""The way round a center that the pointer goes: it tells the turn of an arc, and how far."""

from __future__ import annotations

from math import cos, pi, radians, sin, tau

from sketcher.board.toolkit.drawn_arcs import turned
from sketcher.geometry.curves import XY, Arc


class FollowedTurn:
    """Follows the pointer about a center from a start."""

    def __init__(self, center: XY, start: XY) -> None:
        self.center = center
        self.start = start
        self.sweep = 0.0

    @property
    def ccw(self) -> bool:
        """True while the pointer went counter-clockwise."""
        return self.sweep >= 0.0

    def follow(self, at: XY) -> None:
        """Go on to a place; a whole turn begins again."""
        here = turned(self.center, self.start, at)
        swept = self.sweep + (here - self.sweep + pi) % tau - pi
        self.sweep = swept if abs(swept) < tau else here

    def flip(self) -> None:
        """Go the other way round to the same place."""
        self.sweep += -tau if self.sweep > 0.0 else tau

    def end_of(self, degrees: float) -> XY:
        """Return where a sweep in degrees ends, the way that the pointer went."""
        turn = radians(degrees) * (1.0 if self.ccw else -1.0)
        c, s = cos(turn), sin(turn)
        x, y = self.start[0] - self.center[0], self.start[1] - self.center[1]
        return (self.center[0] + c * x - s * y, self.center[1] + s * x + c * y)

    def arc(self, end: XY) -> Arc:
        """Return the arc to an end."""
        return Arc(self.center, self.start, end, self.ccw)
