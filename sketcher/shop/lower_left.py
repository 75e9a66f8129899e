"""A plan moved so that all of it lies right of and above zero."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sketcher.geometry.bounds import Box, bounds_of
from sketcher.geometry.curves import Curve, Line
from sketcher.geometry.evaluate import moved
from sketcher.shop.cut_plan import CutContour, CutPath, CutPlan


def at_lower_left(plan: CutPlan) -> CutPlan:
    """Return the plan with the lower left corner of its box at zero.

    The box goes around the paths with their leads, the marks, the finished parts and the plate
    where there is one: then the plate's corner comes to lie at zero.
    """
    x, y, *_ = box_of_cut(plan)
    return moved_plan(plan, -x, -y)


def box_of_cut(plan: CutPlan) -> Box:
    """Return the box (x0, y0, x1, y1) around all that a plan holds, in its unit."""
    def curves() -> Iterator[Curve]:
        yield from plan.plate
        for path in plan.paths:
            yield from path.curves
        for contour in plan.finished:
            yield from contour.curves
        yield from (Line(mark.at, mark.at) for mark in plan.marks)

    return bounds_of(curves())


def moved_plan(plan: CutPlan, dx: float, dy: float) -> CutPlan:
    """Return the plan moved by (`dx`, `dy`)."""
    def shifted(curves: tuple[Curve, ...]) -> tuple[Curve, ...]:
        return tuple(moved(curve, dx, dy) for curve in curves)

    def contour(of: CutContour) -> CutContour:
        return replace(of, curves=shifted(of.curves))

    def path(of: CutPath) -> CutPath:
        return replace(of, contour=contour(of.contour), lead_in=shifted(of.lead_in),
                       lead_out=shifted(of.lead_out))

    return replace(
        plan, paths=tuple(map(path, plan.paths)), finished=tuple(map(contour, plan.finished)),
        marks=tuple(replace(mark, at=(mark.at[0] + dx, mark.at[1] + dy)) for mark in plan.marks),
        plate=tuple(moved(edge, dx, dy) for edge in plan.plate))
