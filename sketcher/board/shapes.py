"""Arcs as they are drawn: tangent to a heading, through three places, of a given radius."""

from __future__ import annotations

from math import hypot, sqrt

from sketcher.geometry.curves import XY, Arc, Line

FLAT = 1e-9
"""An arc whose rise is below this share of its chord is a line."""


def tangent_arc(start: XY, heading: XY, end: XY) -> Arc | None:
    """Return the arc that leaves `start` along a unit heading and arrives at `end`.

    None where the end lies straight ahead or behind.
    """
    x, y = end[0] - start[0], end[1] - start[1]
    chord = hypot(x, y)
    aside = heading[0] * y - heading[1] * x
    if chord == 0.0 or abs(aside) <= FLAT * chord:
        return None
    reach = chord * chord / (2.0 * aside)  # signed radius, to the left of the heading
    center = (start[0] - heading[1] * reach, start[1] + heading[0] * reach)
    return Arc(center, start, end, reach > 0.0)


def arc_through(start: XY, via: XY, end: XY) -> Arc | None:
    """Return the arc from `start` through `via` to `end`; None where they lie on one line."""
    ax, ay = via[0] - start[0], via[1] - start[1]
    bx, by = end[0] - start[0], end[1] - start[1]
    cross = ax * by - ay * bx
    size = max(hypot(ax, ay), hypot(bx, by))
    if abs(cross) <= FLAT * size * size:
        return None
    a, b = ax * ax + ay * ay, bx * bx + by * by
    center = (start[0] + (by * a - ay * b) / (2.0 * cross),
              start[1] + (ax * b - bx * a) / (2.0 * cross))
    return Arc(center, start, end, cross > 0.0)


def arc_of_radius(start: XY, end: XY, radius: float, via: XY) -> Arc | None:
    """Return the arc between two ends with a radius, bulging as far as `via` shows.

    Of the four such arcs the one on the side of `via`, and the greater one where `via` lies
    beyond the middle of a half circle. None where the ends are further apart than the diameter.
    """
    x, y = end[0] - start[0], end[1] - start[1]
    chord = hypot(x, y)
    if chord == 0.0 or chord > 2.0 * radius * (1.0 + 1e-12):
        return None
    nx, ny = -y / chord, x / chord
    mx, my = start[0] + 0.5 * x, start[1] + 0.5 * y
    bulge = (via[0] - mx) * nx + (via[1] - my) * ny  # to the left of the chord when positive
    side = 1.0 if bulge >= 0.0 else -1.0
    apothem = sqrt(max(0.0, radius * radius - 0.25 * chord * chord))
    sign = side if abs(bulge) > radius else -side
    center = (mx + sign * apothem * nx, my + sign * apothem * ny)
    return Arc(center, start, end, side < 0.0)


def heading_at(line_or_arc: Line | Arc, at_end: bool) -> XY:
    """Return the unit direction in which somebody leaves a curve by its end, or by its start."""
    if isinstance(line_or_arc, Line):
        x, y = line_or_arc.direction
        return (x, y) if at_end else (-x, -y)
    place = line_or_arc.end if at_end else line_or_arc.start
    cx, cy = line_or_arc.center
    ux, uy = (place[0] - cx), (place[1] - cy)
    size = hypot(ux, uy) or 1.0
    ux, uy = ux / size, uy / size
    ahead = (-uy, ux) if line_or_arc.ccw else (uy, -ux)
    return ahead if at_end else (-ahead[0], -ahead[1])
