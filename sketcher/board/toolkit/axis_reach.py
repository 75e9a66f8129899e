"""An axis that was drawn any length: it reaches from open end to open end of the half.

How far an axis is drawn says nothing of the part, and no paper has a dimension for it; yet its end
would count as a freedom.
"""

from __future__ import annotations

from collections.abc import Callable

from sketcher.board.steps.redundancy import without_superfluous
from sketcher.errors import SketcherError
from sketcher.geometry.curves import Line
from sketcher.geometry.project import distance, parameter_at
from sketcher.part.edits.draft import Draft
from sketcher.part.kinds import KINDS
from sketcher.part.open_half import IN_LINE, open_ends
from sketcher.part.splice import put_end
from sketcher.part.value import LineCurve, Part
from sketcher.part.whole import curve_value
from sketcher.solve.solve_report import Solution


def reaching_open_ends(
    part: Part, axis: str, solve: Callable[[Part], Solution]
) -> Part:
    """Return the part with the loose ends of an axis at the open ends of the outline on it.

    The part as it is where no end of the axis is loose and stands alone, where no open end lies on
    the axis there, or where that would clash.
    """
    was = solve(part).report
    loose = {each.point for each in was.loose}
    curve = part.curves[axis]
    assert isinstance(curve, LineCurve)
    value = curve_value(part, curve)
    assert isinstance(value, Line)
    on_axis = [name for name in open_ends(part) if name not in curve.ends
               and distance(value, part.points[name], bounded=False) <= IN_LINE * value.length]
    draft = Draft(part)
    for index, end in enumerate(curve.ends):
        if end in loose and on_axis and _stands_alone(part, end, axis):
            along = sorted(on_axis, key=lambda name: parameter_at(value, part.points[name]))
            put_end(draft, axis, index, along[-index])
            on_axis.remove(along[-index])
    if draft.curves[axis] == curve:
        return part
    known = set(was.doubled)
    marks = {name for name, binding in draft.bindings.items()
             if KINDS[binding.kind].quantity is None}
    own = {name for name in marks if axis in draft.bindings[name].of}

    def superfluous(_: Part, solution: Solution) -> set[str]:
        # Plumb ends of a plumb line: what drawing bound is said once more by the axis. Where a
        # dimension says it as well, the axis gives way.
        new = set(solution.report.doubled) - known
        return new & marks or (own if new else set())

    try:
        found = without_superfluous(draft.done(), solve, superfluous)
    except SketcherError:
        return part
    report = found.solution.report
    sound = report.converged and report.clashes == was.clashes and report.doubled == was.doubled
    return found.part if sound else part


def _stands_alone(part: Part, point: str, axis: str) -> bool:
    """Tell whether a point is the end of an axis and nothing else."""
    curves = [name for name, curve in part.curves.items() if point in curve.points]
    return curves == [axis] and not any(point in b.of for b in part.bindings.values())
