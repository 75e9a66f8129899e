"""Make one curve of two that cover the same place."""

from __future__ import annotations

from math import dist

from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.mirror import same_place
from sketcher.part.part_size import part_size
from sketcher.part.renaming import hand_over, merge_points
from sketcher.part.splice import CLOSE, finished, two_curves
from sketcher.part.value import Part


def absorb(part: Part, keep: str, gone: str) -> Edited:
    """Let a curve take the place of another that covers the same place.

    What was bound or joined to the one that goes is bound and joined to the one that stays.

    Parameters
    ----------
    part : Part
        The part.
    keep, gone : str
        Ids of the curve that stays and of the one that goes.

    Raises
    ------
    EditError
        When they do not cover the same place.
    """
    draft = Draft(part)
    one, two = two_curves(draft, keep, gone)
    reach = CLOSE * part_size(draft)
    if not same_place(one, two, reach):
        raise EditError(f"{keep}, {gone}", "do not cover the same place",
                        "delete one of them instead")
    stays, goes = draft.curves[keep], draft.curves[gone]
    renamed = {}
    for point in goes.points:
        at = draft.points[point]
        twin = min(stays.points, key=lambda p: dist(draft.points[p], at))
        if twin != point:
            renamed[point] = twin
    hand_over(draft, {gone: keep})
    draft.take_curve(gone)
    if renamed:
        merge_points(draft, renamed)
    return finished(draft, f"{gone} is part of {keep}", keep)
