"""Copy curves to another place."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.geometry.curves import XY
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.shift import chosen, clone, copy_bindings
from sketcher.part.splice import finished
from sketcher.part.value import Part


def copy(part: Part, ids: Sequence[str], step: XY) -> Edited:
    """Copy points and curves by a step.

    Bindings among what is copied are copied too, except what is fixed; the copy as a whole is
    loose.

    Parameters
    ----------
    part : Part
        The part.
    ids : sequence of str
        Points and curves.
    step : tuple of float
        In the part's unit.

    Returns
    -------
    Edited
        `made` holds the copied curves, or the points where no curve was chosen.
    """
    draft = Draft(part)
    curves, points = chosen(draft, ids)
    copies = clone(draft, ids, lambda at: (at[0] + step[0], at[1] + step[1]))
    copy_bindings(draft, copies)
    made = [copies[name] for name in curves or points]
    return finished(draft, f"copied {', '.join(ids)} to {', '.join(made)}", *made)
