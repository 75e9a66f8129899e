"""Where a drawn curve meets the others, and ends that come to lie there."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, tau
from typing import NamedTuple

from sketcher.geometry.bounds import RELATIVE
from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.geometry.meet import meet
from sketcher.part.edits.draft import Draft
from sketcher.part.part_size import part_size
from sketcher.part.splice import curve_of, point_at_end, tie


class CurveCrossing(NamedTuple):
    """A place on a curve where another one crosses or touches it."""

    t: float
    at: XY
    other: str


def crossings(draft: Draft, name: str, edges: Sequence[str] | None = None) -> list[CurveCrossing]:
    """Return the places inside a curve where others meet it, in the order along it."""
    curve = curve_of(draft, name)
    found = []
    for other in others(draft, name, edges):
        for place in meet(curve, curve_of(draft, other)):
            if isinstance(curve, Circle) or 1e-9 < place.a < 1.0 - 1e-9:
                found.append(CurveCrossing(place.a, place.point, other))
    return sorted(found)


def beyond(
    draft: Draft, name: str, index: int, edges: Sequence[str] | None = None
) -> CurveCrossing | None:
    """Return the first place that a curve would reach going on past an end; `t` is a length."""
    curve = curve_of(draft, name)
    least = RELATIVE * part_size(draft)
    found = []
    for other in others(draft, name, edges):
        for place in meet(curve, curve_of(draft, other), bounded=(False, True)):
            ahead = _ahead(curve, index, place.point)
            if ahead is not None and ahead > least:
                found.append(CurveCrossing(ahead, place.point, other))
    return min(found, default=None)


def others(draft: Draft, name: str, edges: Sequence[str] | None) -> list[str]:
    """Return the curves that count as edges: those named, or all others."""
    return [other for other in (draft.curves if edges is None else edges) if other != name]


def end_at(draft: Draft, crossing: CurveCrossing) -> str:
    """Return a point at a crossing: an end of the other curve, or a new one bound on it."""
    found = point_at_end(draft, [crossing.other], crossing.at, RELATIVE * part_size(draft))
    if found is not None:
        return found
    point = draft.point(crossing.at)
    tie(draft, "on", (point, crossing.other))
    return point


def _ahead(curve: Curve, index: int, at: XY) -> float | None:
    """Length from an end of a curve, going on past it, to a place on its carrier."""
    if isinstance(curve, Circle):
        return None
    if isinstance(curve, Line):
        (x, y), (dx, dy) = (curve.end, curve.direction) if index else (curve.start, curve.direction)
        sign = 1.0 if index else -1.0
        return sign * ((at[0] - x) * dx + (at[1] - y) * dy)
    end = curve.end if index else curve.start
    cx, cy = curve.center
    turn = atan2(at[1] - cy, at[0] - cx) - atan2(end[1] - cy, end[0] - cx)
    onward = 1.0 if (curve.sweep > 0.0) == bool(index) else -1.0
    turn = (onward * turn) % tau
    return None if turn >= tau - abs(curve.sweep) else turn * curve.radius
