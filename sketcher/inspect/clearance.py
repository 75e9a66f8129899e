"""The narrowest place between two curves, exactly."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist, hypot
from typing import NamedTuple

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import end_of, start_of
from sketcher.geometry.meet import meet
from sketcher.geometry.project import nearest


class Narrow(NamedTuple):
    """The narrowest place: its width, and a place with its parameter on either curve."""

    width: float
    on_a: XY
    on_b: XY
    a: float
    b: float

    @property
    def middle(self) -> XY:
        """Half way across."""
        return (0.5 * (self.on_a[0] + self.on_b[0]), 0.5 * (self.on_a[1] + self.on_b[1]))


def narrowest(a: Curve, b: Curve, apart: bool = False) -> Narrow:
    """Return the narrowest place between two bounded curves; width 0 where they meet.

    `apart` says that they are known not to meet, which saves the search for it.

    Parameters
    ----------
    a, b : Curve
        In one unit.
    apart : bool
        Known not to meet.

    Returns
    -------
    Narrow
        Width and both places in that unit, with their parameters.
    """
    meetings = () if apart else meet(a, b)
    if meetings:
        first = meetings[0]
        return Narrow(0.0, first.point, first.point, first.a, first.b)
    return min((_across(a, b, start) for start in _starts(a, b)), key=lambda place: place.width)


def _starts(a: Curve, b: Curve) -> Iterator[XY]:
    """Places whose nearest neighbours on the two curves include the narrowest pair.

    The narrowest pair of two curves that do not meet is square to both, or has an end in it. Square
    to a round curve is what points at its center; two parallel lines are taken amid their overlap.
    """
    if isinstance(a, Line) and isinstance(b, Line):
        yield from _amid(a, b)
    for curve in (a, b):
        if not isinstance(curve, Circle):
            yield start_of(curve)
            yield end_of(curve)
    for one, other in ((a, b), (b, a)):
        if isinstance(one, Line):
            continue
        for sign in (1.0, -1.0):
            yield _aimed(one, other, sign)


def _aimed(round_one: Arc | Circle, other: Curve, sign: float) -> XY:
    """The place of a circle on the ray from its center to the other curve, or opposite."""
    foot = nearest(other, round_one.center, bounded=False).point
    dx, dy = foot[0] - round_one.center[0], foot[1] - round_one.center[1]
    reach = hypot(dx, dy)
    if reach == 0.0:
        return foot
    k = sign * round_one.radius / reach
    return (round_one.center[0] + k * dx, round_one.center[1] + k * dy)


def _amid(a: Line, b: Line) -> Iterator[XY]:
    """The middle of what the two lines see of each other, where they are parallel."""
    (ax, ay), (bx, by) = a.direction, b.direction
    if abs(ax * by - ay * bx) > 1e-9:
        return
    spans = sorted(
        (p[0] - a.start[0]) * ax + (p[1] - a.start[1]) * ay for p in (b.start, b.end)
    )
    low, high = max(0.0, spans[0]), min(a.length, spans[1])
    if low < high:
        along = 0.5 * (low + high)
        yield (a.start[0] + along * ax, a.start[1] + along * ay)


def _across(a: Curve, b: Curve, start: XY) -> Narrow:
    on_a = nearest(a, start)
    on_b = nearest(b, on_a.point)
    # Once more from the other side: an end of `b` starts on `b` itself.
    if start_on(b, start):
        on_b = nearest(b, start)
        on_a = nearest(a, on_b.point)
    width = dist(on_a.point, on_b.point)
    return Narrow(width, on_a.point, on_b.point, on_a.parameter, on_b.parameter)


def start_on(curve: Curve, at: XY) -> bool:
    """Tell whether a place is one of the stored ends of a curve."""
    return not isinstance(curve, Circle) and at in (curve.start, curve.end)
