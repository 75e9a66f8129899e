"""Where a dimension of the paper starts: places that are kept by the features that they stand on.

A feature is all that lies on one line or circle (`marking.outline_features`), so that a place is
found again on a drawing whatever its curves are called, how long they are and which of them are
images. Of the student's drawing only some features are there yet: a foot on another one is nowhere.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import dist, hypot
from typing import Protocol, TypeAlias

from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.geometry.meet import meet
from sketcher.geometry.project import nearest

Placed: TypeAlias = Mapping[int, Curve]
"""Curves by the number of the key's feature that they are, in the key's unit and place."""
LEVEL = -1
"""Number under which stands a line along what is level on the drawing, where it is no feature."""


class PaperFoot(Protocol):
    """One way to find a place on a drawing."""

    @property
    def is_soft(self) -> bool:
        """Whether it is the bare end of a curve, which may still be cut or go on."""

    def at(self, placed: Placed) -> XY | None:
        """Return the place; None while a feature that it stands on is not there."""


@dataclass(frozen=True, slots=True)
class CenterFoot:
    """The center of a round."""

    feature: int
    is_soft: bool = False

    def at(self, placed: Placed) -> XY | None:
        """Return the center."""
        curve = placed.get(self.feature)
        return None if curve is None or isinstance(curve, Line) else curve.center


@dataclass(frozen=True, slots=True)
class EdgeFoot:
    """A straight edge; `near` is about where on it the paper starts."""

    feature: int
    near: XY
    is_soft: bool = False

    def line(self, placed: Placed) -> Line | None:
        """Return the edge."""
        curve = placed.get(self.feature)
        return curve if isinstance(curve, Line) else None

    def at(self, placed: Placed) -> XY | None:
        """Return the place on the edge, or on its way beyond."""
        line = self.line(placed)
        return None if line is None else nearest(line, self.near, bounded=False).point


@dataclass(frozen=True, slots=True)
class RimFoot:
    """The outermost place of a round in a direction, a unit vector."""

    feature: int
    way: XY
    is_soft: bool = False

    def at(self, placed: Placed) -> XY | None:
        """Return the place."""
        return self.towards(placed, self.way)

    def towards(self, placed: Placed, way: XY) -> XY | None:
        """Return the outermost place in another direction, on the same side."""
        curve = placed.get(self.feature)
        if curve is None or isinstance(curve, Line):
            return None
        sense = 1.0 if way[0] * self.way[0] + way[1] * self.way[1] >= 0.0 else -1.0
        (x, y), r = curve.center, sense * curve.radius
        return (x + r * way[0], y + r * way[1])


@dataclass(frozen=True, slots=True)
class CornerFoot:
    """Where two features meet, near a place; with `slack` in the key's unit they may just miss."""

    features: tuple[int, int]
    near: XY
    slack: float
    is_soft: bool = False

    def at(self, placed: Placed) -> XY | None:
        """Return the place where they meet, lengthened as far as is needed."""
        one, other = (placed.get(n) for n in self.features)
        if one is None or other is None:
            return None
        places = [found.point for found in meet(one, other, bounded=False)]
        if not places:  # tangent by the paper, and the drawing is off by a little
            foot = nearest(one, self.near, bounded=False).point
            back = nearest(other, foot, bounded=False)
            if back.distance > self.slack:
                return None
            places = [back.point]
        return min(places, key=lambda at: dist(at, self.near))


@dataclass(frozen=True, slots=True)
class EndFoot:
    """The end of a feature that lies nearest to a place."""

    feature: int
    near: XY
    is_soft: bool = True

    def at(self, placed: Placed) -> XY | None:
        """Return the end; None for a full circle."""
        curve = placed.get(self.feature)
        if curve is None or isinstance(curve, Circle):
            return None
        return min((curve.start, curve.end), key=lambda at: dist(at, self.near))


def feet_at(
    curves: Placed, outline: range, at: XY, way: XY | None, within: float, slack: float
) -> tuple[PaperFoot, ...]:
    """Return the ways in which a place of the key can be found on a drawing, the surest first.

    Parameters
    ----------
    curves : mapping of int to Curve
        Of the key; those in `outline` are its outline, the others its layout.
    outline : range
    at : (x, y)
    way : (x, y) or None
        Unit direction of the length that starts there; None where none does.
    within, slack : float
        Length within which a place is met, and within which tangent curves of a drawing may miss.
    """
    found: list[PaperFoot] = []
    for drawn in (True, False):
        near = {n: curve for n, curve in curves.items() if (n in outline) == drawn}
        found += [CenterFoot(n) for n, curve in near.items()
                  if not isinstance(curve, Line) and dist(curve.center, at) <= within]
        on = {n: curve for n, curve in near.items() if _passes(curve, at, within)}
        if way is not None:
            found += [EdgeFoot(n, at) for n, curve in on.items()
                      if isinstance(curve, Line) and abs(_dot(curve.direction, way)) <= SQUARE]
            found += [RimFoot(n, toward) for n, curve in on.items()
                      if not isinstance(curve, Line)
                      for toward in (way, (-way[0], -way[1]))
                      if hypot(curve.center[0] + curve.radius * toward[0] - at[0],
                               curve.center[1] + curve.radius * toward[1] - at[1]) <= within]
        numbers = list(on)
        found += [CornerFoot((a, b), at, slack) for k, b in enumerate(numbers)
                  for a in numbers[:k]]
        found += [EndFoot(n, at) for n, curve in on.items() if not isinstance(curve, Circle)
                  and min(dist(at, curve.start), dist(at, curve.end)) <= within]
    return tuple(found) or tuple(_lost_corner(curves, outline, at, way, within, slack))


def _lost_corner(
    curves: Placed, outline: range, at: XY, way: XY | None, within: float, slack: float
) -> Iterator[PaperFoot]:
    """Give the ways to a place where edges would meet if they were not rounded or cut."""
    through = [n for n in outline if isinstance(line := curves[n], Line)
               and nearest(line, at, bounded=False).distance <= within]
    for n in through:
        line = curves[n]
        if way is not None and isinstance(line, Line) and abs(_dot(line.direction, way)) <= SQUARE:
            yield EdgeFoot(n, at)
    for k, n in enumerate(through):
        yield from (CornerFoot((other, n), at, slack) for other in through[:k])


SQUARE = 1e-6
"""Cosine of the angle within which an edge is square to a length."""


def _passes(curve: Curve, at: XY, within: float) -> bool:
    return nearest(curve, at).distance <= within


def _dot(one: XY, other: XY) -> float:
    return one[0] * other[0] + one[1] * other[1]
