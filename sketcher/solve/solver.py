"""The way in: a part goes in, a solved part and a report come out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from sketcher.errors import EditError
from sketcher.geometry.bounds import extent
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part, frozen
from sketcher.part.whole import half
from sketcher.solve.freedom_verdict import judged
from sketcher.solve.newton import EXACT, NewtonOutcome
from sketcher.solve.search import search
from sketcher.solve.solve_report import Solution, SolveReport
from sketcher.solve.system import System

STANDS = 10.0 * EXACT
"""Rows below this part of the size hold in a part that was solved before and then left alone."""
FEW_CHANGED = 6
"""Dimensions that one parameter, or a person since the last solution, changes at most."""
LOST = 0.05
"""A curve with less than this part of its extent left counts as vanishing."""


def solve(part: Part) -> Solution:
    """Solve the half under all driving bindings.

    Parameters
    ----------
    part : Part
        As drawn or as last solved; sides that are missing are taken from where it stands.

    Returns
    -------
    Solution
        The solved part with every side stored; or, when no solution is reached, the geometry as it
        came in under the same bindings, and a report that says so.

    Raises
    ------
    SketcherError
        When a value cannot be evaluated or a binding does not fit what it names.
    """
    system = System(part)
    return concluded(system, search(system))


def solve_with(
    part: Part, parameters: Mapping[str, str] | None = None, values: Mapping[str, str] | None = None
) -> Solution:
    """Solve the part with other parameters or values, on the branch on which it stands.

    Parameters
    ----------
    part : Part
    parameters : mapping of str to str
        New expressions by parameter name.
    values : mapping of str to str
        New expressions by binding id.

    Raises
    ------
    EditError
        For a name that the part does not have, or a binding without a value.
    """
    changed = changed_values(part, parameters or {}, values or {})
    before = System(part)
    found = search(before)
    if not found.converged:
        return solve(changed)
    solved = before.moved(found.x, before.x0) <= EXACT
    stands = before.part if solved else before.to_part(found.x)
    system = System(stands.having(
        parameters=changed.parameters,
        bindings={
            name: replace(binding, value=changed.bindings[name].value)
            for name, binding in stands.bindings.items()
        }))
    return concluded(system, search(system))


def changed_values(part: Part, parameters: Mapping[str, str], values: Mapping[str, str]) -> Part:
    """Return the part with the named expressions replaced."""
    for name in parameters:
        if name not in part.parameters:
            raise EditError(f"parameters.{name}", "no such parameter",
                            f"use one of {', '.join(part.parameters) or 'none: there are none'}")
    for name in values:
        if name not in part.bindings or KINDS[part.bindings[name].kind].quantity is None:
            raise EditError(f"bindings.{name}", "no dimension of this name")
    return part.having(
        parameters={**part.parameters, **parameters},
        bindings={
            name: replace(b, value=values[name]) if name in values else b
            for name, b in part.bindings.items()
        })


def concluded(system: System, found: NewtonOutcome, judge: bool = True) -> Solution:
    """Return the part and the report that belong to an outcome."""
    holds = "clashing" not in system.merged.values()
    converged = found.converged and holds and found.worst <= EXACT * system.size
    part = system.to_part(found.x) if converged else system.part
    residuals = system.deviations(found.x if converged else system.x0)
    report = SolveReport(
        converged, found.iterations, frozen(residuals),
        vanishing=() if converged else vanishing(system, found),
        turned=system.unmet(found.x) if converged else (),
        unreached=() if converged else unreached(system))
    return Solution(part, judged(report, system, found.x) if judge else report)


def unreached(system: System) -> tuple[str, ...]:
    """Dimensions that are off in a part where all else holds; none where there are too many.

    Then somebody asked for other values of a part that held. A sketch that nobody has solved has
    many dimensions off, or more than dimensions, and no single value is to blame.
    """
    off = np.abs(system.residual(system.x0)) > STANDS * system.size
    if "clashing" in system.merged.values() or off[~system.row_valued].any():
        return ()
    found = {int(owner) for owner in system.row_binding[off]}
    stand = {int(owner) for owner in system.row_binding[system.row_valued]} - found
    few = len(found) == 1 or len(found) <= min(FEW_CHANGED, len(stand))
    return tuple(system.binding_ids[owner] for owner in sorted(found)) if few else ()


def vanishing(system: System, found: NewtonOutcome) -> tuple[str, ...]:
    """Curves that have lost most of their length where the search ended.

    Parameters
    ----------
    system : System
    found : NewtonOutcome
        An outcome without convergence.
    """
    before, after = (half(system.to_part(x)) for x in (system.x0, found.x))
    return tuple(
        name for name, curve in after.items()
        if extent(curve) < LOST * extent(before[name]))
