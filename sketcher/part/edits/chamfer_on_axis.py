"""Cut the corner that a curve makes with its own reflection."""

from __future__ import annotations

from math import dist

from sketcher.geometry import corner_blends as rounding
from sketcher.geometry.evaluate import midpoint
from sketcher.part.corner_on_axis import corner_on_axis
from sketcher.part.edited import Edited
from sketcher.part.lost_corner import hold
from sketcher.part.part_size import part_size
from sketcher.part.splice import finished, follow_groups, tie
from sketcher.part.value import Part

CLOSE = 1e-7
"""Share of the part's size within which the end of the curve is the corner."""


def chamfer_on_axis(part: Part, name: str, axis: str, leg: str | float) -> Edited:
    """Cut the corner of a curve and its reflection square to the axis; half of the cut is drawn.

    The corner stays as a layout point on the curve and the axis; the leg, the straight distance
    from it to the end of the cut, is a dimension and the same on both sides.

    Parameters
    ----------
    part : Part
        The part.
    name : str
        Id of a line or an arc that ends on the axis or would reach it.
    axis : str
        Id of the axis of one of the part's mirrors.
    leg : str or float
        Expression, or number in the part's unit, above zero.

    Returns
    -------
    Edited
        `made` holds the line, its leg and the point of the corner.

    Raises
    ------
    EditError
        When the part is not mirrored about the axis, or the curve crosses it smoothly.
    GeometryError
        When the curve is shorter than the leg.
    """
    found = corner_on_axis(part, name, axis, leg, "leg")
    draft = found.draft
    made = rounding.chamfer(found.curve, found.image, found.size)
    contact, corner = found.end_at(made.a, made.line.start)
    if dist(draft.points.get(corner, made.line.start), made.corner) > CLOSE * part_size(draft):
        corner = draft.point(made.corner)
    for curve in (name, axis):
        hold(draft, corner, curve)
    apex = draft.point(midpoint(made.line))
    line = draft.line(contact, apex, draft.curves[name].role)
    follow_groups(draft, line, name)
    leg_name = tie(draft, "distance", [corner, contact], found.text)
    tie(draft, "on", [apex, axis])
    tie(draft, "square", [line, axis])
    said = f"cut {name} on {axis} with {line}, leg {found.text}"
    return finished(draft, said, line, leg_name, corner)
