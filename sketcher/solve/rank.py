"""Rank of a Jacobian, the dependencies of its rows and the motions that it leaves open.

Rows are scaled to unit length before anything is judged, so that the largest singular value is
of the order of one and neither a unit nor a long lever changes a verdict. A singular value counts
as zero below `tolerance(n)`.

Up to `SMALL` rows and columns this is the singular value decomposition of numpy. Beyond, one sparse
factorisation serves both sides: with ``K = [[d I, A], [A', -d I]]`` a solve with ``(b, 0)``
returns ``d (A A' + d^2)^-1 b`` and one with ``(0, b)`` returns ``-d (A' A + d^2)^-1 b``, without
the squared condition of the normal equations. Two rounds of block inverse iteration (Golub & Van
Loan, *Matrix Computations*, 7.3 and 8.2; from memory) leave nothing but null vectors.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, TypeAlias

import numpy as np

from sketcher.interrupt import check

if TYPE_CHECKING:
    from numpy.typing import NDArray

Floats: TypeAlias = "NDArray[np.float64]"
Matrix: TypeAlias = Any  # numpy array or scipy sparse matrix: naming scipy's type would import it

SMALL = 150
"""Rows and columns up to which algebra is dense: to import scipy takes half a second."""
PROBES = 3
"""Random motions that stand for a larger null space. One shows no point that can move both ways,
two showed all of them on 128 loose chains; a third is for two that carry some point in parallel
within `freedom.MOVES`, a chance of one in ten million for each point."""

SHIFT = 1e-9
"""Part of the largest singular value that makes the sparse matrix regular; without it SuperLU finds
it singular. Two rounds leave of a singular value s some (SHIFT / s)^4. Tried on chains of 100 to
6,000 curves, bound, loose and with values said twice: 1e-6 to 1e-15 give the same verdicts, 1e-6
with null vectors that are off by 2e-13 instead of rounding; 1e-5 misses values said twice."""


@dataclass(frozen=True, slots=True)
class Ranks:
    """What a matrix of m rows and n columns says about its rows and columns.

    Parameters
    ----------
    rank : int
        Number of independent rows.
    dependencies : array [k, m]
        Orthonormal combinations of the scaled rows that vanish; ``k = m - rank``.
    motions : array [n, q]
        Random vectors of the null space, largest component 1; with ``n - rank`` at most `PROBES`
        they span it, else they are general enough to tell which columns can move.
    """

    rank: int
    dependencies: Floats
    motions: Floats


def tolerance(columns: int) -> float:
    """Return the singular value below which one counts as zero, relative to the largest.

    1e-8 at drawing size. The smallest singular value of a long chain that is *not* singular falls
    with the square of its length and faster, so the bound falls likewise beyond `SMALL` columns;
    true dependencies of a solved part stand near 1e-15.
    """
    return float(max(1e-12, 1e-8 * min(1.0, (SMALL / max(columns, 1)) ** 2)))


def judge(matrix: Matrix) -> Ranks:
    """Return rank, row dependencies and motions of a dense or sparse matrix [m, n]."""
    check()
    m, n = matrix.shape
    if n == 0 or m == 0:
        return Ranks(0, np.eye(m), _levelled(_random(n, min(n, PROBES))))
    scaled, idle = _scaled(matrix)
    live = np.flatnonzero(~idle)
    if not len(live):
        return Ranks(0, np.eye(m), _levelled(_random(n, min(n, PROBES))))
    small = max(m, n) <= SMALL or isinstance(matrix, np.ndarray)
    rank, left, motions = (_dense if small else _sparse)(scaled[live])
    dead = np.flatnonzero(idle)
    dependencies = np.zeros((len(left) + len(dead), m))
    dependencies[: len(left), live] = left
    dependencies[len(left) + np.arange(len(dead)), dead] = 1.0
    return Ranks(rank, dependencies, motions)


def null_space(matrix: Matrix) -> Floats:
    """Return an orthonormal basis of the null space of a dense or sparse matrix [m, n]."""
    m, n = matrix.shape
    scaled, idle = _scaled(matrix) if m and n else (matrix, np.ones(m, bool))
    live = np.flatnonzero(~idle)
    if not len(live):
        return np.eye(n)
    scaled = scaled[live]
    if isinstance(scaled, np.ndarray):
        _, s, vt = np.linalg.svd(scaled)
        return np.asarray(vt[int(np.count_nonzero(s > tolerance(n) * s[0])):].T)
    factors = factored(scaled)
    rank = len(live) - len(_row_dependencies(scaled, factors))
    block = _random(n, n - rank)
    zeros = np.zeros((len(live), n - rank))
    # Random vectors lean on each other too little to be put square between the rounds.
    for _ in range(2):
        check()
        block = _levelled(factors.solve(np.vstack([zeros, block]))[len(live):])
    return np.asarray(np.linalg.qr(block)[0])


def row_lengths(matrix: Matrix) -> Floats:
    """Return the Euclidean length of each row."""
    if isinstance(matrix, np.ndarray):
        return np.asarray(np.linalg.norm(matrix, axis=1))
    squares = matrix.multiply(matrix).sum(axis=1)
    return np.asarray(np.sqrt(np.asarray(squares).ravel()))


def _scaled(matrix: Matrix) -> tuple[Matrix, NDArray[np.bool_]]:
    """Rows brought to unit length, and which rows are nothing but rounding."""
    lengths = row_lengths(matrix)
    idle = lengths <= 1e-10 * lengths.max(initial=0.0)
    factors = 1.0 / np.where(idle, 1.0, lengths)
    if isinstance(matrix, np.ndarray):
        return matrix * factors[:, None], idle
    if max(matrix.shape) <= SMALL:
        return matrix.toarray() * factors[:, None], idle
    scaled = matrix.tocsr(copy=True)
    scaled.data *= np.repeat(factors, np.diff(scaled.indptr))
    return scaled, idle


def _random(rows: int, columns: int) -> Floats:
    return np.random.default_rng(2006).standard_normal((rows, columns))


def _dense(a: Floats) -> tuple[int, Floats, Floats]:
    n = a.shape[1]
    u, s, vt = np.linalg.svd(a)
    rank = int(np.count_nonzero(s > tolerance(n) * s[0]))
    null = vt[rank:].T
    if null.shape[1] > PROBES:
        null = null @ _random(null.shape[1], PROBES)
    return rank, u[:, rank:].T, _levelled(null)


def _levelled(motions: Floats) -> Floats:
    """Every motion with largest component 1."""
    if not motions.size:
        return motions
    return np.asarray(motions / np.maximum(np.abs(motions).max(axis=0), 1e-300))


def factored(a: Matrix) -> Any:
    """Sparse factors of ``[[d I, a], [a', -d I]]`` with d = `SHIFT`, as told at the head."""
    from scipy.sparse import coo_array
    from scipy.sparse.linalg import splu

    m, n = a.shape
    entries = a.tocoo()
    row, col, ends = entries.row, entries.col + m, np.arange(m + n)
    shifts = np.where(ends < m, SHIFT, -SHIFT)
    whole = coo_array(
        (np.concatenate([entries.data, entries.data, shifts]),
         (np.concatenate([row, col, ends]), np.concatenate([col, row, ends]))),
        shape=(m + n, m + n))
    return splu(whole.tocsc(), permc_spec="COLAMD")


def _sparse(a: Matrix) -> tuple[int, Floats, Floats]:
    m, n = a.shape
    factors = factored(a)
    left = _row_dependencies(a, factors)
    rank = m - len(left)
    if rank == n:
        return rank, left, np.zeros((n, 0))
    motions = _random(n, min(n - rank, PROBES))
    zeros = np.zeros((m, motions.shape[1]))
    for _ in range(2):
        motions = _levelled(factors.solve(np.vstack([zeros, motions]))[m:])
    return rank, left, motions


def _row_dependencies(a: Matrix, factors: Any) -> Floats:
    """Block inverse iteration; the block grows until it holds something that is not null."""
    m, n = a.shape
    limit = tolerance(n)
    width = min(m, 4)
    while True:
        block = _random(m, width)
        zeros = np.zeros((n, width))
        for _ in range(2):
            block = np.linalg.qr(factors.solve(np.vstack([block, zeros]))[:m])[0]
        _, s, vt = np.linalg.svd(np.linalg.qr(a.T @ block, mode="r"))
        null = np.zeros(width, bool)
        null[: len(s)] = s <= limit
        count = int(null.sum()) + width - len(s)
        if count < width or width == m:
            chosen: Floats = vt[width - count :] if count else vt[:0]
            return np.asarray((block @ chosen.T).T)
        width = min(m, 2 * width)
