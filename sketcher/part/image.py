"""Images that are curves of their own, bound to what they reflect.

They are bound point by point, less one condition an arc: an arc with its center on the axis would
otherwise say one thing twice. Equal radii, tangencies or an equal length take the place.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import hypot, sin

from sketcher.part.edits.draft import Draft
from sketcher.part.mirror import Reflector
from sketcher.part.shift import clone
from sketcher.part.splice import tie
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve

LEAST_SLOPE = sin(0.1)
"""A line this near to the radius (in radians, as a sine) cannot hold an arc's end by its length."""


def add_images(
    draft: Draft, curves: Sequence[str], axis: str, reflection: Reflector
) -> Mapping[str, str]:
    """Add the reflection of curves about a line of the part, and bind it; return ids by source.

    Points on the axis are shared. Every other point is bound reflected, but for those that the
    arcs determine already: an arc has one condition less than its three points. So its center is
    left to `equal` radii; where the center is needed, one of its ends is left to the tangency of
    the curve that ends there, or to the `equal` length of a line.
    """
    points = {p for name in curves for p in draft.curves[name].points}
    shared = {p for p in points if reflection.on_axis(draft.points[p])}
    copies = clone(draft, curves, reflection.point, flips=True, shared=shared)
    plan = _planned(draft, curves, shared)
    order = {name: number for number, name in enumerate(draft.points)}
    for point in sorted(points - shared - plan.freed, key=order.__getitem__):
        tie(draft, "reflected", (point, copies[point], axis))
    for name in plan.equal:
        tie(draft, "equal", (name, copies[name]))
    for one, other in plan.tangent:
        tie(draft, "tangent", (copies[one], copies[other]))
    return copies


@dataclass(slots=True)
class _ImagePlan:
    """Curves bound equal, pairs of images bound tangent, and the points that these determine."""

    shared: set[str]
    equal: dict[str, None] = field(default_factory=dict)
    tangent: list[tuple[str, str]] = field(default_factory=list)
    freed: set[str] = field(default_factory=set)


def _planned(draft: Draft, curves: Sequence[str], shared: set[str]) -> _ImagePlan:
    plan = _ImagePlan(shared)
    uses = Counter(p for name in curves for p in draft.curves[name].points)
    centered = []
    for name in curves:
        curve = draft.curves[name]
        if isinstance(curve, CircleCurve):
            plan.equal[name] = None
        elif isinstance(curve, ArcCurve):
            if uses[curve.center] == 1 and curve.center not in shared:
                plan.equal[name] = None
                plan.freed.add(curve.center)
            else:
                centered.append(name)
    for name in centered:
        _spare_an_end(draft, name, curves, plan)
    return plan


def _spare_an_end(draft: Draft, name: str, curves: Sequence[str], plan: _ImagePlan) -> None:
    """Leave one end of an arc whose center is bound to what else ends there."""
    arc = draft.curves[name]
    assert isinstance(arc, ArcCurve)
    for end, rest in (arc.ends, arc.ends[::-1]):
        if end in plan.shared or end in plan.freed or rest in plan.freed:
            continue
        for other in curves:
            value = draft.curves[other]
            if other == name or isinstance(value, CircleCurve) or end not in value.ends:
                continue
            if _are_tangent(draft, name, other):
                plan.tangent.append((other, name))
            elif isinstance(value, LineCurve) and other not in plan.equal and _holds(
                draft, arc.center, end, value
            ):
                plan.equal[other] = None
            else:
                continue
            plan.freed.add(end)
            return


def _are_tangent(draft: Draft, a: str, b: str) -> bool:
    return any(
        x.kind == "tangent" and x.drives and set(x.of) == {a, b} for x in draft.bindings.values()
    )


def _holds(draft: Draft, center: str, end: str, line: LineCurve) -> bool:
    """Tell whether the length of a line determines its end on a circle: not along the radius."""
    far = line.ends[1] if line.ends[0] == end else line.ends[0]
    (cx, cy), (x, y), (fx, fy) = (draft.points[p] for p in (center, end, far))
    u, v = (x - cx, y - cy), (fx - x, fy - y)
    size = hypot(*u) * hypot(*v)
    return size > 0.0 and abs(u[0] * v[1] - u[1] * v[0]) / size > LEAST_SLOPE
