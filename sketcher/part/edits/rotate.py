"""Turn points and curves about a place."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.geometry.curves import XY
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.instances import InstancePlace
from sketcher.part.shift import shift
from sketcher.part.splice import finished
from sketcher.part.value import Part


def rotate(part: Part, ids: Sequence[str], center: XY, degrees: float) -> Edited:
    """Turn points and curves about a place.

    Curves that share a point with them stretch. Bindings that no longer hold are dropped: a line
    that was level is so no more.

    Parameters
    ----------
    part : Part
        The part.
    ids : sequence of str
        Points and curves.
    center : tuple of float
        The place in the part's unit.
    degrees : float
        Counter-clockwise.
    """
    draft = Draft(part)
    shift(draft, ids, InstancePlace(center=center, degrees=degrees).point)
    return finished(draft, f"turned {', '.join(ids)} by {degrees:g}°")
