"""Freedoms, doubled bindings, clashes and states, put into a solver's report."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from sketcher.part.value import LineCurve, Part, frozen
from sketcher.solve.clash import find_clashes
from sketcher.solve.freedom import freedoms
from sketcher.solve.rank import Floats
from sketcher.solve.solve_report import SolveReport
from sketcher.solve.system import System


def judged(report: SolveReport, system: System, x: Floats) -> SolveReport:
    """Return the report with everything that the structure of the equations tells.

    Parameters
    ----------
    report : SolveReport
        Its `converged` says whether all rows hold at `x`.
    system : System
    x : array
        Unknowns of the solution, or where the solver gave up.
    """
    clashes: tuple[tuple[str, ...], ...] = ()
    if not report.converged or "clashing" in system.merged.values():
        clashes = find_clashes(system.part, x, system)
    caught = frozenset(name for members in clashes for name in members)
    found = freedoms(system, x, report.converged, caught)
    states = dict(found.states)
    caught |= frozenset(report.unreached)
    states.update(dict.fromkeys(caught_curves(system.part, caught), "clashing"))
    return replace(
        report, freedoms=found.count, loose=found.loose, doubled=found.doubled,
        clashes=clashes, states=frozen(states))


def caught_curves(part: Part, bindings: Iterable[str]) -> tuple[str, ...]:
    """Curves that clashing bindings name, or whose ends (for a round: center) they name."""
    named = {name for binding in bindings for name in part.bindings[binding].of}

    def caught(name: str) -> bool:
        curve = part.curves[name]
        if name in named:
            return True
        if isinstance(curve, LineCurve):
            return named.issuperset(curve.ends)
        return curve.center in named

    found = tuple(name for name in part.curves if caught(name))
    return found or tuple(n for n, c in part.curves.items() if named.intersection(c.points))


