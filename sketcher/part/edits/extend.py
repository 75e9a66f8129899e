"""Extend a curve to where it would meet another."""

from __future__ import annotations

from collections.abc import Sequence
from math import dist

from sketcher.errors import EditError
from sketcher.geometry.curves import XY, Circle
from sketcher.part.crossings import beyond, end_at
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.splice import curve_of, finished, put_end
from sketcher.part.value import Part


def extend(part: Part, name: str, pick: XY, edges: Sequence[str] | None = None) -> Edited:
    """Let the end of a curve that is nearer to a place go on to the next curve.

    The new end is bound on that curve, or is its end where it meets it there. An end that a
    dimension names stays as a layout point on the extended curve.

    Parameters
    ----------
    part : Part
        The part.
    name : str
        Id of a line or an arc.
    pick : tuple of float
        A place near the end that is meant.
    edges : sequence of str, optional
        Curves that count as edges; all others when left out.

    Raises
    ------
    EditError
        When the curve is a circle or meets nothing that way.
    """
    draft = Draft(part)
    curve = curve_of(draft, name)
    if isinstance(curve, Circle):
        raise EditError(name, "a circle has no ends", "choose a line or an arc")
    apart = [dist(end, pick) for end in (curve.start, curve.end)]
    index = 0 if apart[0] < apart[1] else 1
    found = beyond(draft, name, index, edges)
    if found is None:
        raise EditError(name, "meets nothing beyond that end", "choose the other end")
    point = end_at(draft, found)
    put_end(draft, name, index, point)
    return finished(draft, f"extended {name} to {found.other}", point)
