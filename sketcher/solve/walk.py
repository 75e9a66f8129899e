"""Continuation: values are led from what they are to what is wanted, and the branch is kept."""

from __future__ import annotations

import numpy as np

from sketcher.part.equations import Array
from sketcher.solve.linear import Rows
from sketcher.solve.newton import EXACT, NewtonOutcome, newton
from sketcher.solve.system import System

SHORTEST = 1.0 / 256.0
STEPS = 60


def walk(system: System, x: Array, first: float = 1.0) -> NewtonOutcome:
    """Lead the dimensions from their values at `x` to the wanted ones.

    A step is taken when Newton's method ends near the linear prediction (a jump to another branch
    is far from it), with positive radii and no wish newly unmet; otherwise it is halved. See
    Allgower & Georg, *Introduction to Numerical Continuation Methods*, SIAM 2003, ch. 6 (from
    memory).

    Parameters
    ----------
    system : System
    x : array, shape (width,)
        Start at which the rows without a value hold.
    first : float
        First step to try, as a part of the whole way.
    """
    begin, end = system.measured(x), system.values
    done, step, count = 0.0, first, 0
    worst = system.kept(x)[1]
    for _ in range(STEPS):
        if done >= 1.0:
            break
        ahead = min(done + step, 1.0)
        values = end if ahead == 1.0 else begin + ahead * (end - begin)
        found, drift = advance(system, x, values)
        count += found.iterations
        sound, unmet = system.kept(found.x)
        if found.converged and sound and unmet <= worst and drift <= 0.5:
            x, done, worst = found.x, ahead, unmet
            step *= 2.0 if drift < 0.2 else 1.0
            continue
        step *= 0.5
        if step < SHORTEST:
            break
    rows = np.abs(system.residual(x)).max(initial=0.0)
    return NewtonOutcome(x, float(rows), done >= 1.0 and rows <= EXACT * system.size, count)


def advance(system: System, x: Array, values: Array) -> tuple[NewtonOutcome, float]:
    """Solve for `values` from `x`; also how far it ended from the prediction, relative to it."""
    rows = system.residual(x, values)
    step = Rows(system, x, values).step(rows)
    length = float(np.linalg.norm(step))
    if not np.isfinite(length) or np.abs(step).max(initial=0.0) > 0.5 * system.size:
        return NewtonOutcome(x, np.inf, False, 1), np.inf
    found = newton(system, x - step, values, most=12)
    off = float(np.linalg.norm(found.x - (x - step)))
    return found, off / (length + 1e-9 * system.size)
