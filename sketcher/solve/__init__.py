"""Equations of a part, their solution, and what they leave free or contradict.

A part is what the literature calls a geometric constraint system, solved numerically. Ours and its
words (Hoffmann & Joan-Arinyo, "A brief on constraint solving", Computer-Aided Design and
Applications 2(5), 2005; from memory): freedom, degree of freedom; bound, loose, clashing: well-,
under- and over-constrained; doubled, redundant and consistent; a clash, a minimal set of
inconsistent constraints; the construction order, a constructive solution read off the
Dulmage-Mendelsohn decomposition; freedoms by chance of position are told apart by a witness
configuration.

The solver itself is imported when it is first asked for: the window starts without it.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from sketcher.solve.solve_report import LoosePoint, Solution, SolveReport

if TYPE_CHECKING:
    from sketcher.solve.drag import Drag
    from sketcher.solve.solver import solve, solve_with

__all__ = ["Drag", "LoosePoint", "Solution", "SolveReport", "solve", "solve_with"]

_HOMES = {"Drag": "drag", "solve": "solver", "solve_with": "solver"}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
