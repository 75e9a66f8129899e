"""The outline as the eye sees it: strokes joined to lines, arcs and circles, with their corners."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import atan2, degrees, dist, hypot, tau

from sketcher.geometry.chain import nodes
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line

LOOKS = 0.5
"""Degrees within which a line looks level, plumb or square, and a joint smooth (common practice of
reading, no source; a drafting machine's vernier reads 5 minutes, an eye without one far less)."""


@dataclass(frozen=True, slots=True)
class DrawnCurve:
    """One curve of the outline; `ends` are numbers of corners, none for a circle."""

    curve: Curve
    ends: tuple[int, int] | None
    name: str

    @property
    def center(self) -> XY | None:
        """Center of a round, None for a line."""
        return None if isinstance(self.curve, Line) else self.curve.center


@dataclass(frozen=True, slots=True)
class DrawnOutline:
    """Curves, the places of their corners, and which curves end at each."""

    curves: tuple[DrawnCurve, ...]
    corners: tuple[XY, ...]
    at: tuple[tuple[int, ...], ...]

    def other(self, corner: int, curve: int) -> int | None:
        """Return the curve that goes on at a corner; None where it is no plain joint."""
        here = self.at[corner]
        if len(here) != 2 or curve not in here or here[0] == here[1]:
            return None
        return here[here[0] == curve]

    def beyond(self, corner: int, curve: int) -> int | None:
        """Return the line at the far end of the one short curve that starts at a corner.

        None where a line begins at the corner itself, or where no line follows: a fillet or a
        chamfer between two lines took their sharp corner away.
        """
        between = self.other(corner, curve)
        ends = None if between is None else self.curves[between].ends
        if between is None or ends is None:
            return None
        far = self.other(ends[ends[0] == corner], between)
        if far is None or far == curve or not isinstance(self.curves[far].curve, Line):
            return None
        return far


def read_outline(strokes: Iterable[tuple[Curve, str]], tol: float) -> DrawnOutline:
    """Return the outline of strokes, each with a name; pieces of one line are one line.

    Parameters
    ----------
    strokes : iterable of (Curve, str)
    tol : float
        Ends nearer than this are one place, in the unit of the strokes.
    """
    pieces = list(strokes)
    while True:
        met = nodes([curve for curve, _ in pieces], tol)
        joined = _one_joined(pieces, met.ends, met.at, tol)
        if joined is None:
            break
        pieces = joined
    curves = tuple(DrawnCurve(_round(curve, ends), None if ends[0] < 0 or ends[0] == ends[1]
                              else ends, name)
                   for (curve, name), ends in zip(pieces, met.ends, strict=True))
    return DrawnOutline(curves, met.points, met.at)


def _round(curve: Curve, ends: tuple[int, int]) -> Curve:
    if isinstance(curve, Arc) and (ends[0] < 0 or ends[0] == ends[1]):
        return Circle(curve.center, curve.radius)
    return curve


def _one_joined(
    pieces: Sequence[tuple[Curve, str]], ends: Sequence[tuple[int, int]],
    at: Sequence[Sequence[int]], tol: float,
) -> list[tuple[Curve, str]] | None:
    """Join the pieces that continue each other, pairs that do not touch at once; None for none."""
    out: list[tuple[Curve, str] | None] = list(pieces)
    taken: set[int] = set()
    for here in at:
        if len(here) != 2 or here[0] == here[1] or not taken.isdisjoint(here):
            continue
        (one, name), (other, _) = pieces[here[0]], pieces[here[1]]
        whole = _continued(one, other, tol)
        if whole is not None:
            out[here[0]], out[here[1]] = (whole, name), None
            taken.update(here)
    return [piece for piece in out if piece is not None] if taken else None


def _continued(one: Curve, other: Curve, tol: float) -> Curve | None:
    """Return the one line or arc that two touching pieces make, or None."""
    if isinstance(one, Line) and isinstance(other, Line):
        far = max(((p, q) for p in (one.start, one.end) for q in (other.start, other.end)),
                  key=lambda pair: dist(*pair))
        whole = Line(*far)
        if abs(whole.length - one.length - other.length) > tol:
            return None
        inner = [p for p in (one.start, one.end, other.start, other.end) if p not in far]
        return whole if all(_off(whole, p) < tol for p in inner) else None
    if isinstance(one, Arc) and isinstance(other, Arc):
        if dist(one.center, other.center) > tol or abs(one.radius - other.radius) > tol:
            return None
        first = one if one.ccw else Arc(one.center, one.end, one.start)
        second = other if other.ccw else Arc(other.center, other.end, other.start)
        if dist(first.end, second.start) > dist(second.end, first.start):
            first, second = second, first
        if dist(second.end, first.start) < tol and dist(first.end, second.start) < tol:
            return Circle(one.center, one.radius)
        return Arc(one.center, first.start, second.end)
    return None


def _off(line: Line, at: XY) -> float:
    (ux, uy), (x, y) = line.direction, line.start
    return abs(ux * (at[1] - y) - uy * (at[0] - x))


def heading(line: Line) -> float:
    """Return the direction of a line in degrees, from 0 to 180."""
    dx, dy = line.direction
    return degrees(atan2(dy, dx)) % 180.0


def turned_from(one: float, other: float) -> float:
    """Return the angle between two directions of lines, from 0 to 90 degrees."""
    apart = abs(one - other) % 180.0
    return min(apart, 180.0 - apart)


def looks_level(line: Line) -> bool:
    """Tell whether a line looks level."""
    return turned_from(heading(line), 0.0) < LOOKS


def looks_plumb(line: Line) -> bool:
    """Tell whether a line looks plumb."""
    return turned_from(heading(line), 90.0) < LOOKS


def tangent_at(curve: Curve, at: XY) -> float:
    """Return the direction of a curve's tangent at one of its places, in degrees 0 to 180."""
    if isinstance(curve, Line):
        return heading(curve)
    x, y = at[0] - curve.center[0], at[1] - curve.center[1]
    return degrees(atan2(x, -y)) % 180.0


def off_line(line: Line, at: XY) -> float:
    """Return the distance of a place from the unbounded line."""
    return _off(line, at)


def along(line: Line, at: XY) -> float:
    """Return how far along a line, from its start, the foot of a place lies."""
    (ux, uy), (x, y) = line.direction, line.start
    return ux * (at[0] - x) + uy * (at[1] - y)


def reflected_at(line: Line, at: XY) -> XY:
    """Return the reflection of a place about a line."""
    (ux, uy), (x, y) = line.direction, line.start
    s, v = ux * (at[0] - x) + uy * (at[1] - y), ux * (at[1] - y) - uy * (at[0] - x)
    return (x + s * ux + v * uy, y + s * uy - v * ux)


def unit_between(start: XY, end: XY) -> XY:
    """Return the unit vector from one place to another; (0, 0) where they are one."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = hypot(dx, dy)
    return (dx / length, dy / length) if length else (0.0, 0.0)


def turn_between(one: XY, other: XY) -> float:
    """Return the turn from one direction to another, in radians from 0."""
    return (atan2(other[1], other[0]) - atan2(one[1], one[0])) % tau
