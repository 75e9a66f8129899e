"""Draws a radius or a diameter: a radial leader with one arrowhead at the curve, and a shoulder.

ASME Y14.5M-1994, 1.8.1 and 1.8.2: the arrowhead is at the arc, never at the center. Leaders are
sloped, with a short level shoulder (course notes).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, dist, pi, sin

from sketcher.drafting.drawn_dimension import Drawn, Form
from sketcher.drafting.measured import MeasuredRound
from sketcher.drafting.primitives import Item, arrowhead, line
from sketcher.drafting.sizes import Sizes
from sketcher.geometry.curves import XY, Arc, Circle
from sketcher.geometry.project import in_sweep


@dataclass(frozen=True, slots=True)
class Leader:
    """Angle on a curve in radians, length of the leader in mm, and whether it points inwards."""

    curve: Arc | Circle
    angle: float
    length: float
    inward: bool = False


def draw_leader(measured: MeasuredRound, leader: Leader, sizes: Sizes) -> Drawn:
    """Draw a radius or diameter."""
    curve, source = leader.curve, f"dimension:{measured.id}"
    (cx, cy), r = curve.center, curve.radius
    ex, ey = cos(leader.angle), sin(leader.angle)
    tip = (cx + r * ex, cy + r * ey)
    sign = -1.0 if leader.inward else 1.0
    knee = (tip[0] + sign * leader.length * ex, tip[1] + sign * leader.length * ey)
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
    form: Form = "label" if measured.label else "diameter" if measured.diameter else "radius"
    return Drawn(measured.id, form, (curve.center, tip), 0.0, measured.wording.plain, middle,
                 tuple(items), measured.stands_for)


def leader_at(measured: MeasuredRound, place: XY, sizes: Sizes) -> Leader:
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
                return Leader(curve, angle + pi, r + away, True)
            ends = (curve.start_angle, curve.start_angle + curve.sweep)
            angle = min(ends, key=lambda a: dist((cx + r * cos(a), cy + r * sin(a)), place))
    return Leader(curve, angle, max(abs(away - r), 0.5 * sizes.arrow[0]), away < r)
