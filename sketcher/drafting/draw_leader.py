"""Draws a radius or a diameter: a radial leader with one arrowhead at the curve, and a shoulder.

ASME Y14.5M-1994, 1.8.1 and 1.8.2: the arrowhead is at the arc, never at the center. Leaders are
sloped, with a short level shoulder (course notes).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan2, cos, dist, pi, radians, sin

from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.measured import Rounded
from sketcher.drafting.primitives import Item, arrowhead, line
from sketcher.drafting.sizes import Sizes
from sketcher.geometry.curves import XY, Arc, Circle
from sketcher.geometry.project import in_sweep

LENGTHS = (7.0, 10.0, 14.0, 19.0, 25.0, 32.0, 40.0, 50.0, 62.0, 76.0)
CIRCLE_ANGLES = tuple(radians(a) for a in (
    45, 135, 315, 225, 60, 120, 30, 150, 300, 240, 330, 210, 50, 130, 20, 70, 110, 160, 200, 340,
    250, 290))
SPARE_ANGLES = tuple(radians(7.5 * k) for k in range(48))
SPARE_LENGTHS, SPARE = (4.5, 8.5, 12.0, 16.5, 22.0, 28.0, 36.0, 45.0, 56.0, 70.0, 90.0, 110.0), 9.0
ARC_PLACES = (0.5, 0.38, 0.62, 0.25, 0.75, 0.12, 0.88)


@dataclass(frozen=True, slots=True)
class Spot:
    """Angle on a curve in radians, length of the leader in mm, and whether it points inwards."""

    curve: Arc | Circle
    angle: float
    length: float
    inward: bool = False


def spots(measured: Rounded, spare: bool = False) -> Iterator[tuple[float, Spot]]:
    """Return places for a leader with what each costs by itself, in no order.

    `spare` adds the many odd ones, for when all usual ones are taken.
    """
    yield from _spots_on(measured.curve, measured.diameter)
    if spare and not isinstance(measured.curve, Arc):
        for angle in SPARE_ANGLES:
            for length in SPARE_LENGTHS:
                yield SPARE + 0.12 * length, Spot(measured.curve, angle, length)
    for number, image in enumerate(measured.images):
        for cost, spot in _spots_on(image, measured.diameter):
            yield cost + 0.5 + 0.2 * number, spot


def _spots_on(curve: Arc | Circle, diameter: bool) -> Iterator[tuple[float, Spot]]:
    angles = CIRCLE_ANGLES if not isinstance(curve, Arc) else tuple(
        curve.start_angle + t * curve.sweep for t in ARC_PLACES)
    for number, angle in enumerate(angles):
        flat = min(abs(cos(angle)), abs(sin(angle)))
        slope = 0.0 if flat > 0.25 else 3.0 * (1.0 - 4.0 * flat)
        for length in LENGTHS:
            cost = 0.12 * length + slope + 0.08 * number
            yield cost, Spot(curve, angle, length)
            hollow = not diameter and isinstance(curve, Arc)
            # From the hollow side; through the center only where the arc is small.
            if hollow and (length < 0.9 * curve.radius or curve.radius < 8.0):
                yield cost + 0.3, Spot(curve, angle, length, True)


def draw_leader(measured: Rounded, spot: Spot, sizes: Sizes) -> Drawn:
    """Draw a radius or diameter."""
    curve, source = spot.curve, f"dimension:{measured.id}"
    (cx, cy), r = curve.center, curve.radius
    ex, ey = cos(spot.angle), sin(spot.angle)
    tip = (cx + r * ex, cy + r * ey)
    sign = -1.0 if spot.inward else 1.0
    knee = (tip[0] + sign * spot.length * ex, tip[1] + sign * spot.length * ey)
    side = 1.0 if sign * ex >= -1e-9 else -1.0
    end = (knee[0] + side * sizes.shoulder, knee[1])
    width = sizes.lettering(measured.wording)[0]
    middle = (end[0] + side * (sizes.clear + 0.5 * width), end[1])
    items: list[Item] = [
        arrowhead(tip, (-sign * ex, -sign * ey), source, *sizes.arrow),
        line(tip, knee, "leader", source),
        line(knee, end, "leader", source),
        *measured.wording.texts(middle, (1.0, 0.0), sizes.height, source),
    ]
    return Drawn(measured.id, "diameter" if measured.diameter else "radius",
                 (curve.center, tip), 0.0, measured.wording.plain, middle, tuple(items))


def spot_at(measured: Rounded, place: XY, sizes: Sizes) -> Spot:
    """Return the leader whose lettering has its middle at or near `place`."""
    curve = measured.curve
    (cx, cy), r = curve.center, curve.radius
    half = sizes.shoulder + sizes.clear + 0.5 * sizes.lettering(measured.wording)[0]
    side = 1.0 if place[0] >= cx else -1.0
    knee = (place[0] - side * half, place[1])
    if (knee[0] - cx) * side < 0.0:
        knee = (cx + 0.01 * side, place[1])
    angle, away = atan2(knee[1] - cy, knee[0] - cx), dist(knee, (cx, cy))
    if isinstance(curve, Arc):
        on = (cx + r * cos(angle), cy + r * sin(angle))
        if not in_sweep(curve, on):
            opposite = (2.0 * cx - on[0], 2.0 * cy - on[1])
            if in_sweep(curve, opposite):
                return Spot(curve, angle + pi, r + away, True)
            ends = (curve.start_angle, curve.start_angle + curve.sweep)
            angle = min(ends, key=lambda a: dist((cx + r * cos(a), cy + r * sin(a)), place))
    return Spot(curve, angle, max(abs(away - r), 0.5 * sizes.arrow[0]), away < r)
