"""Scribe a line that touches two rounds, or one from a point."""

from __future__ import annotations

from sketcher.errors import EditError
from sketcher.geometry.curves import XY
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.scribing import nearest_line, tangents
from sketcher.part.splice import finished, tie
from sketcher.part.value import Part


def scribe_tangent(part: Part, a: str, b: str, near: XY) -> Edited:
    """Scribe a layout line from where it touches one round to where it touches the other.

    Parameters
    ----------
    part : Part
        The part.
    a, b : str
        Two circles or arcs (which stand for their circles), or a point and one of them.
    near : tuple of float
        Picks one of up to four: the nearest.

    Returns
    -------
    Edited
        `made` holds the line, then its bindings.

    Raises
    ------
    EditError
        When there is no such line.
    """
    line = nearest_line(tangents(part, a, b), near)
    if line is None:
        raise EditError("scribe", f"no line is tangent to {a} and {b}",
                        "one lies within the other; choose other circles or arcs")
    draft = Draft(part)
    first, last = (name if name in part.points else draft.point(at)
                   for name, at in ((a, line.start), (b, line.end)))
    name = draft.line(first, last, "layout")
    made = []
    for end, other in ((first, a), (last, b)):
        if other not in part.points:
            made += [tie(draft, "on", (end, other)), tie(draft, "tangent", (name, other))]
    return finished(draft, f"scribed {name}, tangent to {a} and {b}", name, *made)
