"""Steps 10 and 11: the half as a part, with its bindings."""

from __future__ import annotations

from sketcher.geometry.curves import XY, Arc, Circle, Line
from sketcher.intake.linework import HalfShape
from sketcher.intake.taken import BoundHalf
from sketcher.intake.wishes import Wishes
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve, PartCurve, begun
from sketcher.solve import solve


def bound_half(half: HalfShape, wishes: Wishes) -> BoundHalf:
    """Return the half with bindings."""
    points: dict[str, XY] = {}
    names: dict[XY, str] = {}
    curves: dict[str, PartCurve] = {}
    sources: dict[str, tuple[int, ...]] = {}

    def named(at: XY) -> str:
        if at not in names:
            names[at] = f"p{len(points) + 1}"
            points[names[at]] = at
        return names[at]

    for chain in half.kept:
        for each in chain:
            curve, name = each.curve, f"e{len(curves) + 1}"
            if isinstance(curve, Line):
                curves[name] = LineCurve((named(curve.start), named(curve.end)))
            elif isinstance(curve, Arc):
                curves[name] = ArcCurve((named(curve.start), named(curve.end)),
                                        named(curve.center), "ccw" if curve.ccw else "cw")
            elif isinstance(curve, Circle):
                curves[name] = CircleCurve(named(curve.center), curve.radius)
            sources[name] = each.entities
    part = begun(half.shape.unit).having(points=points, curves=curves)
    solution = solve(part)
    return BoundHalf(solution.part, solution, sources=sources, frame=half.frame)
