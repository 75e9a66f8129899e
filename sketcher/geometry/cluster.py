"""Points that are one place within a tolerance."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

Ints: TypeAlias = "NDArray[np.intp]"


def clusters(points: NDArray[np.float64], tol: float) -> Ints:
    """Return for each point the index of the first point of its cluster.

    Parameters
    ----------
    points : array (n, 2)
        Coordinates.
    tol : float
        Points within `tol` of each other are always one cluster; a chain of such points is too.
        Points further apart than three times that are joined only by points between them.
    """
    n = len(points)
    labels = np.arange(n)
    if n < 2:
        return labels
    # Two values within half a cell share a cell of the plain grid or of the one moved by half.
    cell = max(2.0 * tol * (1.0 + 1e-9), np.finfo(float).tiny * 4)
    base = points - points.min(axis=0)
    if np.max(base) / cell > 2.0**62:
        cell = float(np.max(base)) / 2.0**62
    groups = []
    for sx in (0.0, 0.5):
        for sy in (0.0, 0.5):
            ix = np.floor(base[:, 0] / cell + sx).astype(np.int64)
            iy = np.floor(base[:, 1] / cell + sy).astype(np.int64)
            order = np.lexsort((iy, ix))
            new = np.empty(n, bool)
            new[0] = True
            new[1:] = (np.diff(ix[order]) != 0) | (np.diff(iy[order]) != 0)
            starts = np.flatnonzero(new)
            if len(starts) < n:
                groups.append((order, starts, np.cumsum(new) - 1))
    while True:
        before = labels
        for order, starts, group in groups:
            least = np.minimum.reduceat(labels[order], starts)
            labels = labels.copy()
            labels[order] = least[group]
        labels = labels[labels]
        if np.array_equal(labels, before):
            return labels


def components(count: int, a: Ints, b: Ints) -> Ints:
    """Return for each of `count` nodes the least one that edges ``a[i] - b[i]`` tie it to."""
    labels = np.arange(count)
    while len(a):
        low = np.minimum(labels[a], labels[b])
        before = labels.copy()
        np.minimum.at(labels, labels[a], low)
        np.minimum.at(labels, labels[b], low)
        while True:
            deeper = labels[labels]
            if np.array_equal(deeper, labels):
                break
            labels = deeper
        if np.array_equal(labels, before):
            break
    return labels


def groups_of(labels: Ints) -> list[list[int]]:
    """Return the numbers that share a label, rising, in the order of the first of each group."""
    groups: dict[int, list[int]] = {}
    for number, label in enumerate(labels.tolist()):
        groups.setdefault(label, []).append(number)
    return list(groups.values())
