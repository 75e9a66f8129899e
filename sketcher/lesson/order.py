"""The order in which a person with straightedge and compass would construct the half.

The conditions of the drawing board (`relations`) are matched with its unknowns and cut into blocks
that depend on one another (`matching`): block triangular form, the fine Dulmage-Mendelsohn
decomposition; what a constructive solver calls its construction sequence. A block of one point,
line or circle is a move of straightedge and compass; a larger one is said to be what it is, a
computation.
"""

from __future__ import annotations

from sketcher.errors import GeometryError
from sketcher.lesson.board_order import board_order
from sketcher.lesson.idle_moves import without_idle_moves
from sketcher.lesson.order_step import OrderStep
from sketcher.lesson.plan import OrderPlan
from sketcher.part.value import Part
from sketcher.solve.solver import solve

__all__ = ["OrderStep", "construction_order"]


def construction_order(part: Part) -> tuple[OrderStep, ...]:
    """Return the numbered steps that construct the half, its reflection and its patterns.

    Raises
    ------
    GeometryError
        When the bindings cannot all hold.
    SketcherError
        When a value cannot be evaluated.
    """
    solution = solve(part)
    report = solution.report
    if not report.converged or report.clashes:
        names = ", ".join(name for members in report.clashes[:1] for name in members)
        raise GeometryError(
            "bindings", f"{names or 'some'} cannot all hold, so there is nothing to construct",
            "change or drop one of them")
    plan = OrderPlan(solution.part, board_order(solution.part, report.doubled))
    plan.build()
    plan.close(report.doubled, report.freedoms)
    return without_idle_moves(plan.steps)
