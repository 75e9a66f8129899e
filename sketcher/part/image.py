"""Images that are curves of their own, bound to what they reflect."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
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
    arcs determine already: an arc has one condition less than its three points, so its center is
    left to `equal` radii, or one of its ends to `equal` length of the line that ends there.
    """
    points = {p for name in curves for p in draft.curves[name].points}
    shared = {p for p in points if reflection.on_axis(draft.points[p])}
    copies = clone(draft, curves, reflection.point, flips=True, shared=shared)
    equal, freed = _spared(draft, curves, points, shared)
    for point in sorted(points - shared - freed, key=list(draft.points).index):
        tie(draft, "reflected", (point, copies[point], axis))
    for name in equal:
        tie(draft, "equal", (name, copies[name]))
    return copies


def _spared(
    draft: Draft, curves: Sequence[str], points: set[str], shared: set[str]
) -> tuple[list[str], set[str]]:
    """Return the curves to bind by `equal`, and the points that need no `reflected` then."""
    equal: list[str] = []
    freed: set[str] = set()
    uses = Counter(
        p for name in curves for p in draft.curves[name].points
    )
    bound = {p for binding in draft.bindings.values() for p in binding.of if p in points}
    for name in curves:
        curve = draft.curves[name]
        if isinstance(curve, CircleCurve):
            equal.append(name)
        elif isinstance(curve, ArcCurve):
            if set(curve.points) <= shared:
                continue
            if uses[curve.center] == 1 and curve.center not in shared | bound:
                equal.append(name)
                freed.add(curve.center)
            else:
                _spare_an_end(draft, curve, curves, shared, equal, freed)
    return list(dict.fromkeys(equal)), freed


def _spare_an_end(
    draft: Draft,
    arc: ArcCurve,
    curves: Iterable[str],
    shared: set[str],
    equal: list[str],
    freed: set[str],
) -> None:
    for end in arc.ends:
        if end in shared or end in freed:
            continue
        for name in curves:
            line = draft.curves[name]
            if not isinstance(line, LineCurve) or end not in line.ends or name in equal:
                continue
            far = line.ends[1] if line.ends[0] == end else line.ends[0]
            if far not in freed and _slope(draft, arc.center, end, far) > LEAST_SLOPE:
                equal.append(name)
                freed.add(end)
                return


def _slope(draft: Draft, center: str, end: str, far: str) -> float:
    """Sine of the angle between a line and the radius at its end."""
    (cx, cy), (x, y), (fx, fy) = (draft.points[p] for p in (center, end, far))
    u, v = (x - cx, y - cy), (fx - x, fy - y)
    size = hypot(*u) * hypot(*v)
    return abs(u[0] * v[1] - u[1] * v[0]) / size if size else 0.0
