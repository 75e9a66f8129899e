"""Move points and curves."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.geometry.curves import XY
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.shift import shift
from sketcher.part.splice import finished
from sketcher.part.value import Part


def move(part: Part, ids: Sequence[str], step: XY) -> Edited:
    """Move points and curves by a step.

    Curves that share a point with them stretch. Bindings that no longer hold are dropped; what is
    fixed is fixed at its new place.

    Parameters
    ----------
    part : Part
        The part.
    ids : sequence of str
        Points and curves.
    step : tuple of float
        In the part's unit.
    """
    draft = Draft(part)
    shift(draft, ids, lambda at: (at[0] + step[0], at[1] + step[1]))
    return finished(draft, f"moved {', '.join(ids)}")
