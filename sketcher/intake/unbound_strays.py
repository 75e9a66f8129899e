"""What is in no contour stays in the part as the file has it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sketcher.geometry.curves import XY, Arc, Circle, Line
from sketcher.intake.linework import PlaceInFile, TakenCurve
from sketcher.intake.taken import BoundHalf
from sketcher.part.value import (
    ArcCurve,
    Binding,
    CircleCurve,
    LineCurve,
    Mirror,
    Part,
    PartCurve,
    new_id,
)


def with_strays(bound: BoundHalf, strays: Sequence[TakenCurve]) -> BoundHalf:
    """Return a part with further outline that stays where the file has it.

    It is held by its ends, so that it adds no freedom, and is not reflected: nothing is known of
    what it was meant to be, and a person is to say.

    Parameters
    ----------
    bound : BoundHalf
    strays : sequence of TakenCurve
        In the part's unit, where the file has them.
    """
    from sketcher.solve import solve

    if not strays:
        return bound
    part = bound.part
    mirrors = tuple(mirror if mirror.curves != "outline" else Mirror(mirror.axis, tuple(
        name for name, curve in part.curves.items() if curve.role == "outline"))
        for mirror in part.mirrors)
    part = part.having(mirrors=mirrors)
    sources = dict(bound.sources)
    for each in strays:
        part, name = _drawn(part, each, bound.frame)
        sources[name] = each.entities
    solution = solve(part)
    return replace(bound, part=solution.part, solution=solution, sources=sources)


def _drawn(part: Part, each: TakenCurve, frame: PlaceInFile) -> tuple[Part, str]:
    """Add a curve and what holds it; return the part and the curve's id."""
    points, bindings, curve = dict(part.points), dict(part.bindings), each.curve

    def named(at: XY, fixed: bool = True) -> str:
        name = new_id(points, "p")
        points[name] = frame.in_part(at)
        if fixed:
            bindings[new_id(bindings, "b")] = Binding("fixed", (name,))
        return name

    drawn: PartCurve
    if isinstance(curve, Line):
        drawn = LineCurve((named(curve.start), named(curve.end)))
    elif isinstance(curve, Arc):
        ends = named(curve.start), named(curve.end)
        drawn = ArcCurve(ends, named(curve.center, fixed=False), "ccw" if curve.ccw else "cw")
    else:
        drawn = CircleCurve(named(curve.center), curve.radius)
    name = new_id(part.curves, "e")
    if isinstance(curve, (Arc, Circle)):
        bindings[new_id(bindings, "b")] = Binding("radius", (name,), f"{curve.radius:.12f}")
    return part.having(points=points, bindings=bindings,
                       curves={**part.curves, name: drawn}), name
