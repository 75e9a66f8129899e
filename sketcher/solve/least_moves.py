"""A drawing put onto its conditions by the least moves, each in proportion to its doubt.

Constrained least squares: the unknowns x with least sum((x - drawn)^2 / doubt^2) under all rows of
a system, by Newton's method on the linearised rows, each step again from the drawing itself
(Nocedal & Wright, *Numerical Optimization*, 2nd ed. 2006, 18.1; from memory).
"""

from __future__ import annotations

import numpy as np

from sketcher.interrupt import check
from sketcher.part.equations import Array
from sketcher.part.value import Binding, Part
from sketcher.solve.freedom import freedoms
from sketcher.solve.linear import Rows
from sketcher.solve.newton import newton
from sketcher.solve.system import System

MOST = 20
STILL = 1e-8
"""Share of the size that a last step may have; Newton's method does the rest."""


def least_moved(part: Part, doubts: Array) -> Part | None:
    """Return a part with its driving bindings met by the least moves; None where that fails.

    Parameters
    ----------
    part : Part
        As drawn, near to where its bindings hold.
    doubts : array, shape (slots,)
        How far each coordinate and radius may be off, in the part's unit, positive; slots as in
        `unknowns.Slots`.
    """
    system = System(part)
    if "clashing" in system.merged.values():
        return None
    free = system.column >= 0
    column, weight = system.column[free], doubts[free] ** -2.0
    raw = system.slots.values(part)
    # a column that several slots share stands at their weighted mean
    total = np.bincount(column, weight, system.width)
    drawn = np.bincount(column, weight * raw[free], system.width) / total
    weights = (1.0 / total) / float((1.0 / total).max(initial=1e-300))
    x = drawn
    if not len(system.structure[0]):  # nothing is asked that is not met by shared columns
        return system.to_part(x)
    moved = np.inf
    for _ in range(MOST):
        check()
        rows = system.residual(x)
        if moved <= STILL * system.size:
            found = newton(system, x)
            return system.to_part(found.x) if found.converged else None
        linear = Rows(system, x, weights=weights)
        back = drawn - x
        following = drawn - linear.step(rows + linear.change(back))
        if not np.isfinite(following).all():
            return None
        moved = float(np.abs(following - x).max(initial=0.0))
        x = following
    return None


def without_redundant(part: Part) -> dict[str, Binding]:
    """Return the bindings of a solved part that are needed: later ones that follow are left out."""
    system = System(part)
    doubled = freedoms(system, system.at(system.part), solved=False).doubled
    return {name: binding for name, binding in part.bindings.items() if name not in doubled}
