"""Make one point of several."""

from __future__ import annotations

from sketcher.errors import EditError
from sketcher.geometry.curves import XY
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.renaming import merge_points
from sketcher.part.splice import finished, point_in_use
from sketcher.part.value import Part


def merge(part: Part, *points: str, at: XY | None = None) -> Edited:
    """Make one point of several that are meant to be one.

    The first keeps its id. Curves between the points go, bindings of the others become its own;
    those that would say the same twice or bind the point to itself are dropped.

    Parameters
    ----------
    part : Part
        The part.
    *points : str
        Ids of two points or more.
    at : tuple of float, optional
        Where the point goes; where the first one is when left out.

    Raises
    ------
    EditError
        When there are fewer than two points.
    """
    names = tuple(dict.fromkeys(points))
    for name in names:
        if name not in part.points:
            raise EditError(name, "no point with this id", "choose points")
    if len(names) < 2:
        raise EditError("points", "there is only one", "choose two points or more")
    draft = Draft(part)
    kept, *gone = names
    if at is not None:
        draft.move_point(kept, at)
    merge_points(draft, dict.fromkeys(gone, kept))
    if len(draft.curves) < len(part.curves) and not point_in_use(draft, kept):
        raise EditError(", ".join(names), "nothing would be left", "delete them instead")
    return finished(draft, f"{', '.join(gone)} and {kept} are one point", kept)
