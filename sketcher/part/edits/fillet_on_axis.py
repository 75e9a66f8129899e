"""Round the corner that a curve makes with its own reflection."""

from __future__ import annotations

from math import copysign, hypot

from sketcher.geometry import corner_blends as rounding
from sketcher.geometry.curves import XY
from sketcher.geometry.evaluate import midpoint
from sketcher.part.corner_on_axis import corner_on_axis
from sketcher.part.edited import Edited
from sketcher.part.splice import finished, follow_groups, tie, turn_of
from sketcher.part.value import Part


def fillet_on_axis(part: Part, name: str, axis: str, radius: str | float) -> Edited:
    """Round the corner of a curve and its reflection; half of the arc is drawn.

    The arc ends on the axis, its center lies there, and its radius is a dimension. The lost corner
    stays as a layout point on the curve.

    Parameters
    ----------
    part : Part
        The part.
    name : str
        Id of a line or an arc that ends on the axis or would reach it.
    axis : str
        Id of the axis of one of the part's mirrors.
    radius : str or float
        Expression or number, above zero.

    Returns
    -------
    Edited
        `made` holds the arc, its radius and its tangency.

    Raises
    ------
    EditError
        When the part is not mirrored about the axis, or the curve crosses it smoothly.
    GeometryError
        When no such fillet fits.
    """
    found = corner_on_axis(part, name, axis, radius, "radius")
    draft, text = found.draft, found.text
    made = rounding.fillet(found.curve, found.image, found.size)
    contact, _ = found.end_at(made.a, made.at_a)
    center, apex = draft.point(made.center), draft.point(_middle(made))
    arc = draft.arc(contact, apex, center, turn_of(made.arc), draft.curves[name].role)
    follow_groups(draft, arc, name)
    ties = [tie(draft, "radius", [arc], text), tie(draft, "tangent", [name, arc])]
    for point in (center, apex):
        tie(draft, "on", [point, axis])
    return finished(draft, f"rounded {name} on {axis} with {arc}, radius {text}", arc, *ties)


def _middle(made: rounding.Fillet) -> XY:
    """Return the middle of the whole arc, which lies on the axis."""
    (cx, cy), (ax, ay), (bx, by) = made.center, made.at_a, made.at_b
    # Towards the middle of the chord, which no rounding takes off the axis.
    dx, dy = 0.5 * (ax + bx) - cx, 0.5 * (ay + by) - cy
    if hypot(dx, dy) < 0.5 * hypot(bx - ax, by - ay):
        # Near a half turn it lies at the center: square to the chord, as the axis is.
        dx, dy = ay - by, bx - ax
    mx, my = midpoint(made.arc)
    reach = copysign(made.arc.radius / hypot(dx, dy), dx * (mx - cx) + dy * (my - cy))
    return (cx + reach * dx, cy + reach * dy)
