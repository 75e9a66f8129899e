"""Equation of the web: the least material between two rounds that lie beside each other."""

from __future__ import annotations

import numpy as np

from sketcher.part.equations.base import Array, Equation, columns, length, stacked, unit


class WebEquation(Equation):
    """|q - p| - r - s = value for rounds of radii r about p and s about q."""

    points, radii = 2, 2

    def residual(self, at: Array, value: Array, side: Array) -> Array:
        px, py, qx, qy, r, s = columns(at)
        return np.asarray((length(qx - px, qy - py) - r - s - value)[:, None])

    def jacobian(self, at: Array, value: Array, side: Array) -> Array:
        px, py, qx, qy, _, _ = columns(at)
        ux, uy, _ = unit(qx - px, qy - py)
        return stacked(-ux, -uy, ux, uy, -1.0, -1.0, like=at)


WEB = WebEquation()
