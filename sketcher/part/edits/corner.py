"""Bring two curves to a sharp corner."""

from __future__ import annotations

from math import dist

from sketcher.errors import EditError
from sketcher.geometry.corner_blends import corner_of, shared_corner
from sketcher.geometry.curves import XY, Circle, Curve
from sketcher.geometry.project import parameter_at
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.splice import finished, put_end, two_curves
from sketcher.part.value import Part


def corner(
    part: Part,
    a: str,
    b: str,
    near: XY | None = None,
    keep_a: XY | None = None,
    keep_b: XY | None = None,
) -> Edited:
    """Let two lines or arcs that cross or stop short end in one shared point.

    Parameters
    ----------
    part : Part
        The part.
    a, b : str
        Ids of two lines or arcs.
    near : tuple of float, optional
        Picks one of several crossings.
    keep_a, keep_b : tuple of float, optional
        A place on the side of the crossing that stays; without it the longer one does.

    Returns
    -------
    Edited
        `made` holds the shared point. Ends that a dimension names stay as layout points.

    Raises
    ------
    EditError
        When they share an end already, or one of them is a circle.
    GeometryError
        When they do not meet even extended.
    """
    draft = Draft(part)
    curves = two_curves(draft, a, b)
    for name, curve in zip((a, b), curves, strict=True):
        if isinstance(curve, Circle):
            raise EditError(name, "a circle has no ends", "choose lines and arcs")
    if near is None and shared_corner(*curves) and set(draft.curves[a].points[:2]) & set(
        draft.curves[b].points[:2]
    ):
        raise EditError(f"{a}, {b}", "share an end already", "choose two that cross or stop short")
    at = corner_of(*curves, near)
    point = draft.point(at)
    for name, curve, keep in zip((a, b), curves, (keep_a, keep_b), strict=True):
        put_end(draft, name, _end_to_move(curve, at, keep), point)
    return finished(draft, f"{a} and {b} meet in {point}", point)


def _end_to_move(curve: Curve, at: XY, keep: XY | None) -> int:
    """Return the index of the end that goes to the corner."""
    assert not isinstance(curve, Circle)
    here = parameter_at(curve, at)
    if keep is not None:
        return 0 if parameter_at(curve, keep) > here else 1
    if 0.0 < here < 1.0:
        return 0 if here < 0.5 else 1
    start, end = curve.start, curve.end
    to_start = dist(start, at)
    return 0 if to_start < dist(end, at) else 1
