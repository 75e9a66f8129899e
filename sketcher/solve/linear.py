"""The linear step: smallest move that takes the rows to zero, dense or sparse by size."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from sketcher.part.equations import Array
from sketcher.solve.system import System

RIDGE = 1e-13
"""Regulariser relative to the largest diagonal entry: rows that follow from others stay harmless,
and directions whose singular value is above 1e-5 of the largest are solved in one step."""

PANEL = 2
"""Columns that SuperLU factors at a time. Chains of curves fill little: for 2,000 its usual 20
take 1.7 times as long; 1 is as quick. Grids and dense blocks take the same time with 2 and 20."""

Apply = Callable[[Array], Array]


def _heavy(matrix: Any, weights: Array) -> Any:
    """Matrix with each row times its weight, in the format that it has."""
    if isinstance(matrix, np.ndarray):
        return matrix * weights[:, None]
    entries = matrix.data * np.repeat(weights, np.diff(matrix.indptr))
    return type(matrix)((entries, matrix.indices, matrix.indptr), shape=matrix.shape)


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
        self.jacobian: Any = (
            system.dense_jacobian(x, values) if self.small else system.jacobian(x, values))
        flat = self.jacobian.T if self.small else system.transposed(self.jacobian)
        # W J': the weights go to the rows of the transpose
        self.transposed = flat if weights is None else _heavy(flat, weights)
        self.normal = self.jacobian @ self.transposed
        self.most = float(self.normal.diagonal().max(initial=0.0)) or 1.0
        self._undamped: Apply | None = None

    def factor(self, damping: float = 0.0) -> Apply:
        """Return a function that solves with the damped normal matrix."""
        ridge = damping + RIDGE * self.most
        if self.small:
            matrix = self.normal.copy()
            matrix.flat[:: len(matrix) + 1] += ridge
            return lambda rows: np.asarray(np.linalg.solve(matrix, rows))
        from scipy.sparse import csc_array, eye_array
        from scipy.sparse.linalg import splu

        # symmetric, so that compressed rows are compressed columns; sorted here, because the
        # arrays are shared with the factored matrix, which would be sorted without its entries
        normal: Any = self.normal
        normal.sort_indices()
        count = normal.shape[0]
        diagonal = normal.indices == np.repeat(np.arange(count), np.diff(normal.indptr))
        if int(diagonal.sum()) == count:
            entries = normal.data + ridge * diagonal
            ridged = csc_array((entries, normal.indices, normal.indptr), shape=normal.shape)
        else:  # a row without derivatives has no entry to add to
            ridged = (normal + ridge * eye_array(count, format="csr")).tocsc()
        factored = splu(ridged, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0,
                        panel_size=PANEL, options={"SymmetricMode": True})
        if damping:
            solve: Apply = factored.solve
            return solve

        def refined(rows: Array) -> Array:
            # one round against the matrix without the ridge: a long chain needs it, and it costs
            # a small part of the factorisation
            y = factored.solve(rows)
            return np.asarray(y + factored.solve(rows - self.normal @ y))

        return refined

    def step(self, rows: Array, damping: float = 0.0) -> Array:
        """Return the step that, subtracted, takes `rows` to zero in the linear model."""
        if damping:
            return np.asarray(self.transposed @ self.factor(damping)(rows))
        if self._undamped is None:
            self._undamped = self.factor()
        return np.asarray(self.transposed @ self._undamped(rows))

    def change(self, step: Array) -> Array:
        """Change of the rows along a step in the linear model."""
        return np.asarray(self.jacobian @ step)
