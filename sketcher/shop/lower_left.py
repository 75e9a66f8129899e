"""A plan moved so that all of it lies right of and above zero."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.geometry.bounds import Box, bounds_of
from sketcher.geometry.curves import Curve, Line
from sketcher.shop.cut_plan import CutPlan
from sketcher.shop.moved_plan import moved_plan


def at_lower_left(plan: CutPlan) -> CutPlan:
    """Return the plan with the lower left corner of its box at zero.

    The box goes around the paths with their leads, the marks, the finished parts and the plate
    where there is one: then the plate's corner comes to lie at zero.
    """
    x, y, *_ = box_of_cut(plan)
    return moved_plan(plan, lambda at: (at[0] - x, at[1] - y))


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
