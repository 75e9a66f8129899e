"""Solve what was sketched: the sides that no file stores are searched, and doubts are told.

Which parts are sound only an inspection knows, so the search among sides, which belongs to the
solver, is led from here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import dist

from sketcher.inspect.inspection import inspect_part
from sketcher.part.kinds import KINDS
from sketcher.part.part_size import part_size
from sketcher.part.value import Doubt, Part, circle_radii, frozen
from sketcher.part.whole import same_outline, whole
from sketcher.solve import solve
from sketcher.solve.newton import NewtonOutcome
from sketcher.solve.solve_report import Solution
from sketcher.solve.system import System

APART = 1e-6
"""Geometries that differ by less than this part of the size are the same."""

MANY = 250
"""Curves of the whole part from which the instances of patterns are left out while sides are
compared: they repeat what is wrong with the first, a thousand times and for each trial."""


def solve_sketch(part: Part) -> Solution:
    """Solve a part; sides that are not stored are searched, and doubts about them are noted.

    Of the parts that the bindings allow, the sound one nearest to the sketch is taken. Rivals of
    other geometry that are nearly as near are noted in `part.doubts`. A part whose sides are all
    stored is solved as by `solve`, at no extra cost.

    Parameters
    ----------
    part : Part
        As drawn or as last solved.

    Returns
    -------
    Solution
        With every side stored and with doubts. When no solution is reached, the part as it came
        in, the missing sides still missing, so that they are searched once more next time.

    Raises
    ------
    SketcherError
        When a value cannot be evaluated or a binding does not fit what it names.
    """
    if not any(b.side is None and KINDS[b.kind].has_sides for b in part.bindings.values()):
        return solve(part)
    from sketcher.solve.choices import Choices

    if not Choices(part).words:
        return _read_where_solved(solve(part), part)
    return _searched(part)


def _searched(part: Part) -> Solution:
    from sketcher.solve.rivals import Hunt
    from sketcher.solve.solver import concluded

    def solution_of(system: System, outcome: NewtonOutcome) -> Solution:
        return _read_where_solved(concluded(system, outcome), part)

    lean = len(whole(part)) > MANY

    def faults(system: System, outcome: NewtonOutcome) -> int:
        solution = solution_of(system, outcome)
        there = solution.part.having(patterns={}) if lean else solution.part
        # what can still move says nothing for or against a side
        return sum(finding.code != "loose"
                   for finding in inspect_part(there, solution.report).findings)

    def alike(one: Part, other: Part) -> bool:
        return same_outline(one, other, APART * part_size(one))

    hunt = Hunt(part, faults, alike)
    if hunt.best is None:
        solution = solve(part)
        return replace(solution, part=solution.part.having(bindings=part.bindings))
    solution = solution_of(hunt.best.system, hunt.best.outcome)
    doubts = tuple(_doubt(solution.part, hunt.best.sides, rival.sides, rival.part)
                   for rival in hunt.rivals)
    doubts += tuple(Doubt(frozen(dict(sides))) for sides in hunt.untold)
    return replace(solution, part=solution.part.having(doubts=_simplest(doubts)))


def _read_where_solved(solution: Solution, drawn: Part) -> Solution:
    """Return a solution whose implied sides are those of its geometry, not of the sketch."""
    from sketcher.solve.choices import implied

    if not solution.report.converged:
        return solution
    return replace(solution, part=implied(solution.part, drawn))


def _doubt(
    part: Part, sides: Mapping[str, str], others: Mapping[str, str], other: Part
) -> Doubt:
    least, radii = APART * part_size(part), circle_radii(part)
    return Doubt(
        frozen({name: side for name, side in others.items() if side != sides[name]}),
        frozen({name: at for name, at in other.points.items()
                if dist(at, part.points[name]) > least}),
        frozen({name: radius for name, radius in circle_radii(other).items()
                if abs(radius - radii[name]) > least}))


def _simplest(doubts: tuple[Doubt, ...]) -> tuple[Doubt, ...]:
    """Return the doubts without those that are others taken together."""
    found: list[Doubt] = []
    for doubt in sorted(doubts, key=lambda doubt: len(doubt.sides)):
        parts = [other.sides.items() for other in found
                 if other.sides.items() <= doubt.sides.items()]
        if set().union(*parts) != set(doubt.sides.items()):
            found.append(doubt)
    return tuple(doubt for doubt in doubts if doubt in found)
