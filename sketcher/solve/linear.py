"""The linear step: smallest move that takes the rows to zero, dense or sparse by size."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from sketcher.part.equations import Array
from sketcher.solve.system import System

RIDGE = 1e-13
"""Regulariser relative to the largest diagonal entry: rows that follow from others stay harmless,
and directions whose singular value is above 1e-5 of the largest are solved in one step."""

LEFT = 1e-5
"""What a solve may leave of the largest row. The ridge leaves 1e-11 on a chain of 100 curves, 1e-7
at 2,000 and 1e-2 at 10,000; up to this much the next step of Newton's method takes it away with the
rest. At 10,000 curves 1e-3 costs a step of five more, and without a limit it is two."""

Apply = Callable[[Array], Array]


class Rows:
    """Jacobian at one place, ready for steps of different damping.

    With weights w the step minimises sum(step**2 / w) subject to the rows; without, all weights
    are one. Solves (J W J' + damping I) y = rows, step = W J' y.
    """

    def __init__(
        self, system: System, x: Array, values: Array | None = None, weights: Array | None = None
    ) -> None:
        self.system, self.weights = system, weights
        self.small = system.small
        if self.small:
            self.jacobian = system.dense_jacobian(x, values)
            flat = self.jacobian.T
            # W J': the weights go to the rows of the transpose
            self.transposed = flat if weights is None else flat * weights[:, None]
            self.normal = self.jacobian @ self.transposed
        else:
            self.entries = system.entries(x, values)
            self.normal = system.normal.product(self.entries, weights)
        self.most = float(self.normal.diagonal().max(initial=0.0)) or 1.0
        self._undamped: Apply | None = None

    def factor(self, damping: float = 0.0) -> Apply:
        """Return a function that solves with the damped normal matrix."""
        ridge = damping + RIDGE * self.most
        # nothing returned from here knows these rows, which keep it: a circle would hold every
        # factorisation until the next look for garbage, and the next one would need fresh memory
        if self.small:
            matrix = self.normal.copy()
            matrix.flat[:: len(matrix) + 1] += ridge
            return lambda rows: np.asarray(np.linalg.solve(matrix, rows))
        normal, solve = self.normal, self.system.normal.factor(self.normal, ridge)
        if damping:
            return solve

        def refined(rows: Array) -> Array:
            # one round against the matrix without the ridge, where that tells
            y = solve(rows)
            rest = rows - normal @ y
            if np.abs(rest).max() <= LEFT * np.abs(rows).max():
                return y
            return np.asarray(y + solve(rest))

        return refined

    def step(self, rows: Array, damping: float = 0.0) -> Array:
        """Return the step that, subtracted, takes `rows` to zero in the linear model."""
        if damping:
            return self._along(self.factor(damping)(rows))
        if self._undamped is None:
            self._undamped = self.factor()
        return self._along(self._undamped(rows))

    def _along(self, y: Array) -> Array:
        """W J' y, shape (width,)."""
        if self.small:
            return np.asarray(self.transposed @ y)
        row, column = self.system.structure
        step = np.bincount(column, self.entries * y[row], self.system.width)
        return step if self.weights is None else self.weights * step

    def change(self, step: Array) -> Array:
        """Change of the rows along a step in the linear model."""
        if self.small:
            return np.asarray(self.jacobian @ step)
        row, column = self.system.structure
        return np.bincount(row, self.entries * step[column], self.system.height)
