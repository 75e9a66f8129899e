"""Equations of a part, their solution, and what they leave free or contradict.

A part is what the literature calls a geometric constraint system, solved numerically; DEVELOPERS.md
has our words beside the literature's.

Given to others: `solve(part)` and `solve_with(part, parameters, values)`, which leads values from
what they are to what they become, return a `Solution` of the solved part and a `SolveReport`; where
no solution is reached its part is the last good geometry under the new bindings. `Drag(part,
points)` with ``.to({id: (x, y)})`` is the soft-target solve of a gesture; an arc's or circle's id
drags its radius. The sides of a sketch are searched by `inspect.sketched.solve_sketch`, which leads
`rivals` from above. A part is never changed here, only returned anew; nothing here judges more than
the equations.

How a half is solved, in the order of the files: `assemble` takes from the kinds the rows of all
bindings, one block an equation; `reduce` substitutes unknowns that are one; `system` numbers the
owners of rows: arcs, whose ends lie on them, then the driving bindings in the order of the file.
`linear` makes the step: ``(J W J' + damping) y = rows, step = W J' y``, the smallest move; dense
up to `rank.SMALL` unknowns (scipy costs half a second at the first import), else by SuperLU with
a minimum-degree order. `newton` repeats it, damped as in Levenberg (Quarterly of Applied
Mathematics 2, 1944) and Marquardt (J. SIAM 11, 1963; both from memory) while far. `search` and
`walk` choose starts, `clash`, `circuit`, `freedom` and `witness` judge the outcome.

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
