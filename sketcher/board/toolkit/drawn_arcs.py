"""Arcs as they are drawn; None where the places allow none."""

from __future__ import annotations

from math import atan2, hypot, tau

from sketcher.errors import GeometryError
from sketcher.geometry import arcs
from sketcher.geometry.curves import XY, Arc, Line
from sketcher.geometry.evaluate import tangent_at

FLAT = 1e-9
"""An end that is less than this share of its distance off the tangent lies straight ahead."""


def tangent_arc(start: XY, heading: XY, end: XY) -> Arc | None:
    """Return the arc that leaves `start` along a unit heading and arrives at `end`."""
    x, y = end[0] - start[0], end[1] - start[1]
    if abs(heading[0] * y - heading[1] * x) <= FLAT * hypot(x, y):
        return None
    return arcs.arc_from_tangent(start, heading, end)


def arc_through(start: XY, via: XY, end: XY) -> Arc | None:
    """Return the arc from `start` through `via` to `end`."""
    try:
        return arcs.arc_through(start, via, end)
    except GeometryError:
        return None


def arc_of_radius(start: XY, end: XY, radius: float, via: XY) -> Arc | None:
    """Return the arc between two ends with a radius, on the side of `via`.

    The long way round where `via` is further from the chord than the radius.
    """
    x, y = end[0] - start[0], end[1] - start[1]
    chord = hypot(x, y) or 1.0
    left = (x * (via[1] - start[1]) - y * (via[0] - start[0])) / chord
    try:
        return arcs.arc_of_radius(start, end, radius, left < 0.0, abs(left) > radius)
    except GeometryError:
        return None


def heading_at(curve: Line | Arc, at_end: bool) -> XY:
    """Return the unit direction in which somebody leaves a curve by its end, or by its start."""
    x, y = tangent_at(curve, 1.0 if at_end else 0.0)
    return (x, y) if at_end else (-x, -y)


def turned(center: XY, start: XY, at: XY) -> float:
    """Return the signed angle from `start` to `at` about a center, in (-pi, pi]."""
    a = atan2(start[1] - center[1], start[0] - center[0])
    b = atan2(at[1] - center[1], at[0] - center[0])
    turn = (b - a) % tau
    return turn - tau if turn > 0.5 * tau else turn
