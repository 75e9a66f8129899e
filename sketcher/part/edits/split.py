"""Split a curve in two."""

from __future__ import annotations

from sketcher.errors import EditError
from sketcher.geometry.curves import XY, Circle, Curve
from sketcher.geometry.evaluate import point_at
from sketcher.geometry.project import nearest
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.splice import (
    carried_over,
    curve_of,
    finished,
    follow_groups,
    lengths_to_points,
    tie,
)
from sketcher.part.value import ArcCurve, CircleCurve, Part


def split(part: Part, name: str, at: XY, other: XY | None = None) -> Edited:
    """Split a line or an arc at a place, or a circle at two.

    The first piece keeps the id and with it the bindings; a tangency at the far end goes over to
    the second. Pieces of a line stay in line, those of an arc share its center. A dimension of the
    line's length measures between the ends that it had.

    Parameters
    ----------
    part : Part
        The part.
    name : str
        Id of the curve.
    at, other : tuple of float
        Places near the curve; a circle needs both.

    Returns
    -------
    Edited
        `made` holds the second piece and the new points.

    Raises
    ------
    EditError
        When a place is at an end, or a circle is given only one.
    """
    draft = Draft(part)
    curve = curve_of(draft, name)
    if isinstance(curve, Circle):
        return _split_circle(draft, name, curve, at, other)
    t = nearest(curve, at).parameter
    if not 1e-9 < t < 1.0 - 1e-9:
        raise EditError(name, "the place is at an end", "choose a place between the ends")
    lengths_to_points(draft, name)
    value = draft.curves[name]
    assert not isinstance(value, CircleCurve)
    first, last = value.ends
    point = draft.point(point_at(curve, t))
    if isinstance(value, ArcCurve):
        new = draft.arc(point, last, value.center, value.turn, value.role)
    else:
        new = draft.line(point, last, value.role)
    draft.change_curve(name, ends=(first, point))
    if not isinstance(value, ArcCurve):
        tie(draft, "in line", (first, point, last))
    carried_over(draft, name, new, last)
    follow_groups(draft, new, name)
    return finished(draft, f"split {name}: {new} goes on from {point}", new, point)


def _split_circle(
    draft: Draft, name: str, curve: Curve, at: XY, other: XY | None
) -> Edited:
    value = draft.curves[name]
    assert isinstance(value, CircleCurve)
    if other is None:
        raise EditError(name, "a circle is split at two places", "give the other one too")
    one, two = (point_at(curve, nearest(curve, place).parameter) for place in (at, other))
    if abs(one[0] - two[0]) + abs(one[1] - two[1]) <= 1e-9 * value.radius:
        raise EditError(name, "the two places are one", "choose two places")
    first, last = draft.point(one), draft.point(two)
    draft.put_curve(name, ArcCurve((first, last), value.center, "ccw", value.role))
    new = draft.arc(last, first, value.center, "ccw", value.role)
    follow_groups(draft, new, name)
    return finished(draft, f"split {name}: {new} is the rest", new, first, last)
