"""Cut a curve back to where others cross it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sketcher.errors import EditError
from sketcher.geometry.curves import XY, Circle
from sketcher.geometry.project import nearest
from sketcher.part.crossings import CurveCrossing, crossings, end_at
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.splice import (
    carried_over,
    curve_of,
    drop_implied,
    finished,
    follow_groups,
    lengths_to_points,
    put_end,
    tie,
)
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve, Part


def cut_back(part: Part, name: str, pick: XY, edges: Sequence[str] | None = None) -> Edited:
    """Take away the span of a curve around a place, up to the nearest crossings.

    New ends are bound on the curve that they end at. A span in the middle leaves two curves that
    stay in line, or of one radius about one center; a circle becomes an arc. An end that a
    dimension names stays as a layout point on the curve.

    Parameters
    ----------
    part : Part
        The part.
    name : str
        Id of the curve.
    pick : tuple of float
        A place on the span that goes.
    edges : sequence of str, optional
        Curves that count as edges; all others when left out.

    Returns
    -------
    Edited
        `made` holds the curve, then the second piece where there is one.

    Raises
    ------
    EditError
        When nothing crosses the curve there.
    """
    draft = Draft(part)
    curve = curve_of(draft, name)
    found = crossings(draft, name, edges)
    if isinstance(curve, Circle):
        return _open_circle(draft, name, found, nearest(curve, pick).parameter)
    t = nearest(curve, pick).parameter
    before = max((c for c in found if c.t <= t), default=None)
    after = min((c for c in found if c.t > t), default=None)
    if before is None and after is None:
        raise EditError(name, "nothing crosses it there", "delete it, or choose another place")
    if before is None and after is not None:
        put_end(draft, name, 0, end_at(draft, after))
    elif after is None and before is not None:
        put_end(draft, name, 1, end_at(draft, before))
    elif before is not None and after is not None:
        return _cut_out(draft, name, before, after)
    return finished(draft, f"cut {name} back", name)


def _cut_out(draft: Draft, name: str, before: CurveCrossing, after: CurveCrossing) -> Edited:
    lengths_to_points(draft, name)
    value = draft.curves[name]
    assert isinstance(value, LineCurve | ArcCurve)
    low, high = end_at(draft, before), end_at(draft, after)
    new = draft.curve(replace(value, ends=(high, value.ends[1])))
    draft.change_curve(name, ends=(value.ends[0], low))
    drop_implied(draft, name)
    for key, binding in list(draft.bindings.items()):
        if binding.kind == "on" and binding.of == (high, name):
            draft.drop(key)  # it is an end of the rest, which stays in line
    tie(draft, "in line" if isinstance(value, LineCurve) else "equal", (name, new))
    carried_over(draft, name, new, value.ends[1])
    follow_groups(draft, new, name)
    return finished(draft, f"cut a span out of {name}; {new} is the rest", name, new)


def _open_circle(draft: Draft, name: str, found: list[CurveCrossing], t: float) -> Edited:
    value = draft.curves[name]
    assert isinstance(value, CircleCurve)
    if len(found) < 2:
        raise EditError(name, "fewer than two curves cross it", "choose another circle")
    # Round the circle: the crossing behind the place and the one ahead of it.
    behind = max((c for c in found if c.t <= t), default=found[-1])
    ahead = min((c for c in found if c.t > t), default=found[0])
    if behind.at == ahead.at:
        raise EditError(name, "only one place crosses it", "choose another circle")
    ends = (end_at(draft, ahead), end_at(draft, behind))
    draft.put_curve(name, ArcCurve(ends, value.center, "ccw", value.role))
    drop_implied(draft, name)
    return finished(draft, f"{name} is an arc now", name)
