"""A curve whose ends are put elsewhere, near by."""

from __future__ import annotations

from math import dist, pi

from sketcher.errors import GeometryError
from sketcher.geometry.arcs import arc_of_radius
from sketcher.geometry.curves import XY, Arc, Line
from sketcher.geometry.evaluate import midpoint

AWAY = 2.0
"""The middle of an arc may move so many times as far as its ends. An arc of about half a turn has
ends hardly nearer than its diameter: to keep the radius there would move the middle by the root of
what the ends moved."""


def with_ends(curve: Line | Arc, start: XY, end: XY) -> Line | Arc:
    """Return a curve between other ends, a little away from its own.

    An arc keeps its radius while its middle moves about as much as its ends; else it keeps its
    sweep and becomes larger or smaller with its chord.
    """
    if isinstance(curve, Line):
        return Line(start, end)
    moved = max(dist(start, curve.start), dist(end, curve.end))
    middle = midpoint(curve)
    try:
        kept = arc_of_radius(start, end, curve.radius, curve.ccw, abs(curve.sweep) > pi)
    except GeometryError:
        pass
    else:
        if dist(midpoint(kept), middle) <= AWAY * moved:
            return kept
    # The chord's turn and growth as one complex factor takes the center along.
    chord = complex(*curve.end) - complex(*curve.start)
    center = complex(*start) + (complex(*end) - complex(*start)) / chord * (
        complex(*curve.center) - complex(*curve.start))
    return Arc((center.real, center.imag), start, end, curve.ccw)
