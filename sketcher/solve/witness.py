"""A witness configuration: same incidences, other sizes; and the test of a real motion.

Rows that depend on one another at the solved configuration may do so by chance of position: three
points whose distances happen to add up, six points on a conic. A witness (Michelucci & Foufou 2006)
keeps all that is said without a value (tangent, on, parallel, square ...), lets go of the values
and stands somewhere near. What depends there depends always. Where the two disagree, special sizes
may still let the part move (a parallelogram of equal bars); whether they do is tried.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import numpy as np

from sketcher.solve.rank import Floats, Matrix, factored

if TYPE_CHECKING:
    from sketcher.solve.system import System

AWAY = 1e-3  # of the part's size
CLOSE = 1e-11  # of the part's size: incidences hold at the witness


def jacobian(system: System, x: Floats) -> Matrix:
    """Jacobian as an array for a small system, sparse for a large one."""
    return system.dense_jacobian(x) if system.small else system.jacobian(x)


def stepper(matrix: Matrix) -> Callable[[Floats], Floats]:
    """Return a function: shortest step that takes rows away to first order, dependent or not."""
    if isinstance(matrix, np.ndarray):
        inverse = np.linalg.pinv(matrix, rcond=1e-10)
        return lambda rows: np.asarray(-inverse @ rows, float)
    m, n = matrix.shape
    factors = factored(matrix)
    return lambda rows: np.asarray(-factors.solve(np.concatenate([rows, np.zeros(n)]))[m:])


def settled(
    system: System, x: Floats, combine: Callable[[Any], Any], steps: int = 30
) -> Floats | None:
    """Nearest unknowns at which the combined rows vanish; None when they are not reached.

    Newton with the shortest step; one factorisation serves as long as rows shrink tenfold a step.
    """
    limit = CLOSE * system.size
    step: Callable[[Floats], Floats] | None = None
    before = np.inf
    for _ in range(steps):
        rows = combine(system.residual(x))
        worst = float(np.abs(rows).max(initial=0.0))
        if worst <= limit:
            return x
        if step is None or worst > 0.1 * before:
            step = stepper(combine(jacobian(system, x)))
        x, before = x + step(rows), worst
    return None


def witness(system: System, x: Floats) -> Floats | None:
    """Unknowns of a configuration near `x` that keeps what is said without a value.

    Of a dimension with several rows (the two ends of a line at an offset) their difference is
    kept: the size may change, the meaning not. None when no such configuration was found.
    """
    rng = np.random.default_rng(1984)
    return shaped(system, x + AWAY * system.size * rng.uniform(-1.0, 1.0, len(x)))


def shaped(system: System, x: Floats) -> Floats | None:
    """Nearest unknowns that keep what is said without a value, whatever the sizes; None if none."""
    return settled(system, x, _incidences(system, x))


def _incidences(system: System, x: Floats) -> Callable[[Any], Any]:
    """Return a function that takes rows (or a Jacobian) to their parts that know no value."""
    valued = system.row_valued
    free = np.flatnonzero(~valued)
    step = 1e-3
    slopes = (system.residual(x, system.values + step) - system.residual(x)) / step
    base: dict[int, int] = {}
    ones, others = [], []
    for row in np.flatnonzero(valued).tolist():
        first = base.setdefault(int(system.row_binding[row]), row)
        if first != row and slopes[first] != 0.0:
            ones.append(row)
            others.append(first)
    factor = slopes[ones] / slopes[others]

    def combine(rows: Any) -> Any:
        if isinstance(rows, np.ndarray):
            scale = factor if rows.ndim == 1 else factor[:, None]
            return np.concatenate([rows[free], rows[ones] - scale * rows[others]])
        from scipy.sparse import diags_array, vstack

        parts = [rows[free]]
        if ones:
            parts.append(rows[ones] - diags_array(factor) @ rows[others])
        return vstack(parts, format="csr")

    return combine


def really_moves(system: System, x: Floats, motion: Floats) -> bool:
    """Whether a step along a null vector leads to another solution.

    A motion of first order only (the middle one of three points in line) is undone by the way
    back to a solution; a real one is kept but for terms of second order.
    """
    step = AWAY * system.size * motion / np.abs(motion).max()
    spot = settled(system, x + step, lambda rows: rows, 12)
    return spot is not None and bool(
        np.linalg.norm(spot - x - step) <= 0.02 * np.linalg.norm(step))
