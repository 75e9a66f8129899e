"""The outline gone over: heavy from point to point, in the order of its loops."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from math import cos, pi, sin

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve, Part
from sketcher.part.whole import half

TURN = pi / 24.0  # of an arc between two places of its picture


def chains(part: Part) -> Iterator[list[tuple[str, bool]]]:
    """Yield the runs of lines and arcs of the outline that join end to end.

    Each curve with True where it is run through from its second end to its first. An open run
    begins at a loose end.
    """
    at: dict[str, list[str]] = defaultdict(list)
    ends: dict[str, tuple[str, str]] = {}
    for name, curve in part.curves.items():
        if curve.role == "outline" and isinstance(curve, (LineCurve, ArcCurve)):
            ends[name] = (curve.ends[0], curve.ends[1])
            for point in curve.ends:
                at[point].append(name)
    left = dict.fromkeys(ends)
    loose = [name for name in ends if any(len(at[p]) != 2 for p in ends[name])]
    for start in (*loose, *ends):
        if start not in left:
            continue
        one, other = ends[start]
        point = other if len(at[other]) != 2 and len(at[one]) == 2 else one
        run: list[tuple[str, bool]] = []
        following = [start]
        while following:
            own = following[0]
            del left[own]
            one, other = ends[own]
            run.append((own, point == other))
            point = one if point == other else other
            following = [n for n in at[point] if n in left] if len(at[point]) == 2 else []
        yield run


def places_along(curve: Curve) -> tuple[XY, ...]:
    """Return places along a curve, for a picture."""
    if isinstance(curve, Line):
        return (curve.start, curve.end)
    if isinstance(curve, Arc):
        start, sweep = curve.start_angle, curve.sweep
    else:
        start, sweep = 0.0, 2.0 * pi
    (cx, cy), radius = curve.center, curve.radius
    count = max(2, int(abs(sweep) / TURN) + 1)
    return tuple((cx + radius * cos(start + sweep * k / count),
                  cy + radius * sin(start + sweep * k / count)) for k in range(count + 1))


def circles(part: Part) -> list[str]:
    """Whole circles of the outline."""
    return [name for name, curve in part.curves.items()
            if curve.role == "outline" and isinstance(curve, CircleCurve)]


def shapes(part: Part) -> dict[str, tuple[XY, ...]]:
    """Places along every curve of the half."""
    return {name: places_along(curve) for name, curve in half(part).items()
            if isinstance(curve, (Line, Arc, Circle))}
