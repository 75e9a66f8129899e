"""Newton's method with the smallest step, damped while the rows are far from zero."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sketcher.interrupt import check
from sketcher.part.equations import Array
from sketcher.solve.linear import Rows
from sketcher.solve.system import System

EXACT = 1e-9
"""Rows below this part of the size count as solved."""
FINE = 2e-15
"""Rows below this part of the size are not improved further: it is a few units of rounding."""
CLOSE = 1e-12
"""Rows below this part of the size are improved only as long as a step at least halves them."""
SLOW, PATIENCE = 0.99, 6
"""So many steps in a row that leave more than this of the squared rows lead nowhere."""


@dataclass(frozen=True, slots=True)
class NewtonOutcome:
    """Where the iteration ended.

    `worst` is the largest row in the part's unit; `converged` means at most `EXACT` of the size.
    """

    x: Array
    worst: float
    converged: bool
    iterations: int


def newton(
    system: System,
    x: Array,
    values: Array | None = None,
    most: int = 60,
    reach: float = 0.25,
) -> NewtonOutcome:
    """Solve the rows from `x`.

    Levenberg-Marquardt damping (Nocedal & Wright, *Numerical Optimization*, 2nd ed., 10.3; from
    memory), which goes over into plain Newton with the minimum-norm step: loose geometry moves as
    little as possible.

    Parameters
    ----------
    system : System
    x : array, shape (width,)
        Start.
    values : array or None
        Wanted values in place of the system's own.
    most : int
        Largest number of steps.
    reach : float
        Longest step of any unknown as a part of the size.
    """
    size = system.size
    rows = system.residual(x, values)
    worst = float(np.abs(rows).max(initial=0.0))
    damping, count, idle = 0.0, 0, 0
    while count < most and worst > FINE * size:
        linear = Rows(system, x, values)
        cost = float(rows @ rows)
        better = False
        while not better and count < most:
            check()
            count += 1
            step = linear.step(rows, damping)
            longest = float(np.abs(step).max(initial=0.0))
            if not np.isfinite(longest):
                return NewtonOutcome(x, worst, worst <= EXACT * size, count)
            if longest > reach * size:
                step *= reach * size / longest
            trial = x - step
            found = system.residual(trial, values)
            reached = float(found @ found)
            better = reached < cost
            if better:
                left = rows - linear.change(step)
                gain = (cost - reached) / max(cost - float(left @ left), 1e-300)
                if gain > 0.75:
                    damping = damping * 0.1 if damping > 1e-7 else 0.0
                elif gain < 0.25:
                    damping = max(4.0 * damping, 1e-4)
                idle = idle + 1 if reached > SLOW * cost else 0
                if idle > PATIENCE:
                    return NewtonOutcome(x, worst, worst <= EXACT * size, count)
                x, rows, before = trial, found, worst
                worst = float(np.abs(rows).max(initial=0.0))
                if worst <= CLOSE * size and worst > 0.5 * before:
                    return NewtonOutcome(x, worst, True, count)
            elif worst <= EXACT * size or longest <= 1e-14 * size:
                return NewtonOutcome(x, worst, worst <= EXACT * size, count)
            else:
                damping = max(10.0 * damping, 1e-3)
    return NewtonOutcome(x, worst, worst <= EXACT * size, count)
