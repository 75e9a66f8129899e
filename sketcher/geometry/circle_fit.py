"""The circle that lies nearest to many points."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sketcher.geometry.curves import XY


class FittedCircle(NamedTuple):
    """A circle with the furthest distance of a point from it."""

    center: XY
    radius: float
    residual: float


def fitted_circle(points: NDArray[np.float64]) -> FittedCircle | None:
    """Return the circle of least squares of |p - center|^2 - radius^2; None for points in line.

    Parameters
    ----------
    points : array, shape (n, 2)
        Three or more.

    Notes
    -----
    The algebraic fit of Kasa, *A circle fitting procedure and its error analysis*, 1976 (from
    memory). It draws short arcs of scattered points too small; points that lie off by far less
    than the rise of their arc, as here, it fits as well as any.
    """
    middle = points.mean(axis=0)
    local = points - middle
    size = float(np.abs(local).max())
    if size == 0.0:
        return None
    local = local / size
    squares = np.einsum("ij,ij->i", local, local)
    # The normal equations, with the mean taken out: two by two, as the places sum to zero.
    a = local.T @ local
    b = 0.5 * local.T @ squares
    det = a[0, 0] * a[1, 1] - a[0, 1] * a[1, 0]
    if det <= 1e-14 * (a[0, 0] + a[1, 1]) ** 2:
        return None
    x = (b[0] * a[1, 1] - b[1] * a[0, 1]) / det
    y = (b[1] * a[0, 0] - b[0] * a[1, 0]) / det
    radius = float(np.sqrt(squares.mean() + x * x + y * y))
    off = np.abs(np.hypot(local[:, 0] - x, local[:, 1] - y) - radius).max()
    return FittedCircle((float(middle[0] + size * x), float(middle[1] + size * y)),
                        size * radius, float(size * off))
