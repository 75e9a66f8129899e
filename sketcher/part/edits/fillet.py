"""Round a corner."""

from __future__ import annotations

from sketcher.errors import EditError
from sketcher.geometry import corner_blends as rounding
from sketcher.geometry.curves import XY
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.lost_corner import check_sharp, cut_corner
from sketcher.part.splice import amount, finished, follow_groups, tie, turn_of, two_curves
from sketcher.part.value import Part


def fillet(part: Part, a: str, b: str, radius: str | float, near: XY | None = None) -> Edited:
    """Round the corner of two curves with a tangent arc.

    The arc keeps its radius as a dimension and is bound tangent to both curves. The lost corner
    stays as a layout point on both, so that dimensions to it still hold; a dimension of a line's
    length goes on measuring to the corner.

    Parameters
    ----------
    part : Part
        The part.
    a, b : str
        Ids of two lines, arcs or circles that share a corner, cross, or stop short of each other.
    radius : str or float
        Expression or number, above zero.
    near : tuple of float, optional
        A place that picks one of several corners.

    Returns
    -------
    Edited
        `made` holds the arc, its radius, its tangencies and the point of the corner.

    Raises
    ------
    EditError
        When the curves run on into each other without a corner.
    GeometryError
        When no such fillet fits.
    """
    draft = Draft(part)
    curves = two_curves(draft, a, b)
    size, text = amount(part, radius, "length", "radius")
    if not size > 0.0:
        raise EditError("radius", f"{text} is not above zero", "give a positive radius")
    if near is None:
        check_sharp((a, b), curves, rounding.shared_corner(*curves))
    made = rounding.fillet(*curves, size, near)
    contacts = (made.at_a, made.at_b)
    ends, lost = cut_corner(draft, (a, b), curves, (made.a, made.b), contacts, made.corner)
    arc = draft.arc(*ends, made.center, turn_of(made.arc), draft.curves[a].role)
    follow_groups(draft, arc, a, b)
    ties = [tie(draft, "radius", [arc], text), *(tie(draft, "tangent", [n, arc]) for n in (a, b))]
    said = f"rounded the corner of {a} and {b} with {arc}, radius {text}"
    return finished(draft, said, arc, *ties, *([lost] if lost else []))
