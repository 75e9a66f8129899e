"""A plan whose points all go elsewhere, by a turn and a move."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from sketcher.geometry.curves import XY, Curve, Line
from sketcher.geometry.evaluate import carried
from sketcher.shop.cut_plan import CutContour, CutPath, CutPlan


def moved_plan(plan: CutPlan, at: Callable[[XY], XY]) -> CutPlan:
    """Return the plan with every point where `at`, a turn and a move, takes it."""
    def all_of(curves: tuple[Curve, ...]) -> tuple[Curve, ...]:
        return tuple(carried(curve, at) for curve in curves)

    def contour(of: CutContour) -> CutContour:
        return replace(of, curves=all_of(of.curves))

    def path(of: CutPath) -> CutPath:
        return replace(of, contour=contour(of.contour), lead_in=all_of(of.lead_in),
                       lead_out=all_of(of.lead_out))

    return replace(
        plan, paths=tuple(map(path, plan.paths)), finished=tuple(map(contour, plan.finished)),
        marks=tuple(replace(mark, at=at(mark.at)) for mark in plan.marks),
        plate=tuple(Line(at(edge.start), at(edge.end)) for edge in plan.plate))
