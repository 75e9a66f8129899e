"""The linear step: smallest move that takes the rows to zero, dense or sparse by size."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from sketcher.part.equations import Array
from sketcher.solve.system import System

RIDGE = 1e-13
"""Regulariser relative to the largest diagonal entry: rows that follow from others stay harmless,
and directions whose singular value is above 1e-5 of the largest are solved in one step."""

Apply = Callable[[Array], Array]


class Rows:
    """Jacobian at one place, ready for steps of different damping.

    With weights w the step minimises sum(step**2 / w) subject to the rows; without, all weights
    are one. Solves (J W J' + damping I) y = rows, step = W J' y.
    """

    def __init__(
        self, system: System, x: Array, values: Array | None = None, weights: Array | None = None
    ) -> None:
        self.weights = weights
        self.small = system.small
        self.jacobian = (
            system.dense_jacobian(x, values) if self.small else system.jacobian(x, values))
        heavy = self.jacobian if weights is None else self.jacobian * weights
        self.transposed = heavy.T
        self.normal = heavy @ self.jacobian.T
        self.most = float(self.normal.diagonal().max(initial=0.0)) or 1.0

    def factor(self, damping: float = 0.0) -> Apply:
        """Return a function that solves with the damped normal matrix."""
        ridge = damping + RIDGE * self.most
        if self.small:
            matrix = self.normal.copy()
            matrix.flat[:: len(matrix) + 1] += ridge
            return lambda rows: np.linalg.solve(matrix, rows)
        from scipy.sparse import dia_array
        from scipy.sparse.linalg import splu

        count = self.normal.shape[0]
        ridged = self.normal + dia_array((np.full((1, count), ridge), [0]), shape=(count, count))
        factored = splu(ridged.tocsc(), permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0,
                        options={"SymmetricMode": True})
        solve: Apply = factored.solve
        return solve

    def step(self, rows: Array, damping: float = 0.0) -> Array:
        """Return the step that, subtracted, takes `rows` to zero in the linear model."""
        return np.asarray(self.transposed @ self.factor(damping)(rows))

    def change(self, step: Array) -> Array:
        """Change of the rows along a step in the linear model."""
        return np.asarray(self.jacobian @ step)
