"""Cut a corner straight."""

from __future__ import annotations

from sketcher.errors import EditError
from sketcher.geometry import corner_blends as rounding
from sketcher.geometry.curves import XY
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.lost_corner import check_sharp, cut_corner, hold
from sketcher.part.splice import amount, finished, follow_groups, tie, two_curves
from sketcher.part.value import Part


def chamfer(
    part: Part,
    a: str,
    b: str,
    leg: str | float,
    other_leg: str | float | None = None,
    near: XY | None = None,
) -> Edited:
    """Cut the corner of two curves with a line.

    The corner stays as a layout point on both curves; the legs are dimensions, the straight
    distances from it to the two ends of the cut.

    Parameters
    ----------
    part : Part
        The part.
    a, b : str
        Ids of two lines, arcs or circles that meet, as they are or when extended.
    leg, other_leg : str or float
        Expression or number: the leg on `a`, and the one on `b` (the same when left out).
    near : tuple of float, optional
        A place in the corner that is meant, where two curves cross.

    Returns
    -------
    Edited
        `made` holds the line, the two legs and the point of the corner.

    Raises
    ------
    EditError
        When the curves run on into each other without a corner.
    GeometryError
        When the curves do not meet or are shorter than a leg.
    """
    draft = Draft(part)
    curves = two_curves(draft, a, b)
    legs = [amount(part, leg, "length", "leg")]
    legs.append(legs[0] if other_leg is None else amount(part, other_leg, "length", "other leg"))
    for size, text in legs:
        if not size > 0.0:
            raise EditError("leg", f"{text} is not above zero", "give a positive length")
    shared = rounding.shared_corner(*curves)
    if shared == rounding.corner_of(*curves, near):
        check_sharp((a, b), curves, shared)
    made = rounding.chamfer(*curves, legs[0][0], legs[1][0], near)
    contacts = (made.line.start, made.line.end)
    ends, corner = cut_corner(draft, (a, b), curves, (made.a, made.b), contacts, made.corner)
    if corner is None:
        corner = draft.point(made.corner)
        for name in (a, b):
            hold(draft, corner, name)
    line = draft.line(*ends, draft.curves[a].role)
    follow_groups(draft, line, a, b)
    ties = [
        tie(draft, "distance", [corner, end], text)
        for end, (_, text) in zip(ends, legs, strict=True)
    ]
    said = f"cut the corner of {a} and {b} with {line}, {legs[0][1]} by {legs[1][1]}"
    return finished(draft, said, line, *ties, corner)
