"""Scribe a circle that touches two things at a radius, or three."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.errors import EditError
from sketcher.geometry.curves import XY
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.scribing import nearest_circle, positive_length, touching
from sketcher.part.splice import finished, tie
from sketcher.part.value import Part


def scribe_touching(
    part: Part, touched: Sequence[str], near: XY, radius: str | float | None = None
) -> Edited:
    """Scribe a layout circle bound tangent to two curves at a radius, or to three.

    A point stands for a curve that the circle passes through.

    Parameters
    ----------
    part : Part
        The part.
    touched : sequence of str
        Two ids with a radius, three without; lines count unbounded, arcs as their circles.
    near : tuple of float
        Picks one of several circles: the one whose rim or center is nearest.
    radius : str or float, optional
        Expression or number, above zero.

    Returns
    -------
    Edited
        `made` holds the circle, then its bindings.

    Raises
    ------
    EditError
        When no circle is tangent to them all.
    """
    size, text = (None, "") if radius is None else positive_length(part, radius, "radius")
    found = nearest_circle(touching(part, tuple(touched), size), near)
    if found is None:
        raise EditError("scribe", f"no circle is tangent to {' and '.join(touched)} so",
                        "take another radius or other curves")
    draft = Draft(part)
    name = draft.circle(found.circle.center, found.circle.radius, "layout")
    made = [] if size is None else [tie(draft, "radius", (name,), text)]
    for other in touched:
        if other in part.points:
            made.append(tie(draft, "on", (other, name)))
        else:
            made.append(tie(draft, "tangent", (other, name)))
    return finished(draft, f"scribed {name}, tangent to {', '.join(touched)}", name, *made)
