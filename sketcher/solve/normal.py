"""The matrix J W J' of a large system and its factors: what its pattern decides is found once."""

from __future__ import annotations

from collections.abc import Callable
from copy import copy
from typing import TYPE_CHECKING, Any, TypeAlias

import numpy as np

from sketcher.part.equations import Array

if TYPE_CHECKING:
    from scipy.sparse import csr_array

    Sparse: TypeAlias = csr_array

PANEL = 2
"""Columns that SuperLU factors at a time. Chains of curves fill little: for 2,000 its usual 20
take 1.7 times as long; 1 is as quick. Grids and dense blocks take the same time with 2 and 20."""

MOST_PRODUCTS = 12
"""Products for each entry of J up to which they are listed. A chain has 4; a column that k rows
share (all radii equal to one) makes k * k of them, each of which would be kept and gathered."""

Solve = Callable[[Array], Array]


class Normal:
    """Products and factors of J W J' for one pattern of J.

    Parameters
    ----------
    column : int array, shape (entries,)
        Column of each entry of J, sorted by rows, then columns.
    indptr : int array, shape (height + 1,)
        Where each row begins.
    width : int
        Columns of J.
    """

    def __init__(self, column: Array, indptr: Array, width: int) -> None:
        from scipy.sparse import csr_array

        self.column, self.indptr = column, indptr
        self.shape = (len(indptr) - 1, width)
        numbers = np.arange(len(column), dtype=np.int32)
        flat = csr_array((numbers, column, indptr), shape=self.shape).tocsc()
        self.turned, self.down, self.begin = flat.data, flat.indices, flat.indptr
        deep = np.diff(self.begin)
        listed = (deep * deep.astype(float)).sum() <= MOST_PRODUCTS * len(column)
        # a row without derivatives has no entry on the diagonal for the ridge
        self.products = Products(self) if listed and np.diff(indptr).all() else None

    def product(self, entries: Array, weights: Array | None = None) -> Sparse:
        """J W J' for the entries of J, compressed; weights have the shape (width,)."""
        heavy = entries if weights is None else entries * weights[self.column]
        if self.products is not None:
            return self.products.of(entries, heavy)
        from scipy.sparse import csr_array

        # both by rows: scipy multiplies no mixed formats
        flat = csr_array((entries[self.turned], self.down, self.begin), shape=self.shape[::-1])
        return csr_array((heavy, self.column, self.indptr), shape=self.shape) @ flat

    def factor(self, normal: Sparse, ridge: float) -> Solve:
        """Return a function that solves with a product and the ridge on its diagonal."""
        if self.products is not None:
            return self.products.factor(normal.data, ridge)
        from scipy.sparse import eye_array

        # symmetric, so that compressed rows are compressed columns
        ridged = normal + ridge * eye_array(self.shape[0], format="csr")
        return _solver(_superlu(ridged.tocsc(), "MMD_AT_PLUS_A"))


class Products:
    """Single products of which J W J' is the sum, in the order of its entries.

    At 100 curves making and checking scipy's arrays takes as long as multiplying. scipy also leaves
    out what cancels to nothing, so that no two products have one pattern; here it stays the same,
    and the order of elimination, a third of a factorisation, is found only once.
    """

    def __init__(self, given: Normal) -> None:
        from scipy.sparse import csr_array

        shape, count = (given.shape[0], given.shape[0]), len(given.column)
        # the lower triangle: each entry by those above it in its column, and by itself; in short
        # numbers, for with long ones fresh memory takes most of the time
        at, numbers = np.empty(count, np.int32), np.arange(count, dtype=np.int32)
        at[given.turned] = numbers
        top = given.begin[given.column]
        deep = at - top + 1
        past = np.zeros(count + 1, np.int32)
        np.cumsum(deep, out=past[1:])
        first = np.repeat(numbers, deep)
        products = np.arange(past[-1], dtype=np.int32)
        second = products + np.repeat(top - past[:-1], deep)
        # going over to columns sorts in a time that grows with the products alone
        lower = csr_array(
            (products, given.down[second], past[given.indptr]), shape=shape).tocsc()
        # long again: numpy would make them so at every product
        self.first = first[lower.data].astype(int)
        self.second = given.turned[second[lower.data]].astype(int)
        new = np.ones(len(self.first), bool)
        new[1:] = lower.indices[1:] != lower.indices[:-1]
        new[lower.indptr[:-1]] = True
        self.into = np.cumsum(new) - 1
        begin = np.append(self.into[lower.indptr[:-1]], np.count_nonzero(new)).astype(np.int32)
        self.pattern, self.mirror = _mirrored(lower.indices[new], begin)
        self.ordered: Pattern | None = None
        self.room = np.empty((2, len(self.first)))  # fresh memory takes longer than the products

    def of(self, entries: Array, heavy: Array) -> Sparse:
        """J W J' with the entries of J, and those of J W."""
        products, others = self.room
        entries.take(self.first, out=products, mode="clip")
        heavy.take(self.second, out=others, mode="clip")
        products *= others
        sums = np.bincount(self.into, products)
        return self.pattern.matrix(sums[self.mirror])

    def factor(self, sums: Array, ridge: float) -> Solve:
        """Return a function that solves with the matrix of these sums and a ridge.

        The first time SuperLU looks for an order by minimum degree; from then on it is known.
        """
        ridged = sums.copy()
        ridged[self.pattern.diagonal] += ridge
        if self.ordered is None:
            factors = _superlu(self.pattern.matrix(ridged), "MMD_AT_PLUS_A")
            self.place = factors.perm_c.copy()
            self.back = np.argsort(self.place)
            self.ordered, self.shuffle = self.pattern.ordered(self.place)
            return _solver(factors)
        solve = _solver(_superlu(self.ordered.matrix(ridged[self.shuffle]), "NATURAL"))
        place, back = self.place, self.back
        return lambda rows: np.asarray(solve(rows[back])[place])


class Pattern:
    """Where the entries of a symmetric matrix stand, compressed by columns, rows in order."""

    def __init__(self, indices: Array, indptr: Array) -> None:
        from scipy.sparse import csc_array

        self.indices, self.indptr = indices, indptr
        self.count = len(indptr) - 1
        self.diagonal = np.flatnonzero(
            indices == np.repeat(np.arange(self.count), np.diff(indptr)))
        self.empty = csc_array((np.zeros(len(indices)), indices, indptr),
                               shape=(self.count, self.count))
        self.empty.has_canonical_format = True  # spares a look at every entry

    def matrix(self, entries: Array) -> Any:
        """Matrix of these entries."""
        made = copy(self.empty)  # shares the pattern and spares scipy's look at it
        made.data = entries
        return made

    def ordered(self, place: Array) -> tuple[Pattern, Array]:
        """Pattern with its rows and columns at other places, and the old number of each entry."""
        from scipy.sparse import csr_array

        numbers, indices, indptr = np.arange(len(self.indices)), self.indices, self.indptr
        for _ in range(2):  # over to columns and back sorts both ways
            turned = csr_array((numbers, place[indices], indptr),
                               shape=(self.count, self.count)).tocsc()
            numbers, indices, indptr = turned.data, turned.indices, turned.indptr
        return Pattern(indices, indptr), numbers


def _mirrored(indices: Array, begin: Array) -> tuple[Pattern, Array]:
    """Pattern of a symmetric matrix by its lower triangle, and the number there of each entry.

    In the lower triangle the diagonal comes first in its column.
    """
    from scipy.sparse import csr_array

    count = len(begin) - 1
    turned = csr_array((np.arange(len(indices)), indices, begin), shape=(count, count)).tocsc()
    inner = turned.indptr[1:] - 1  # the diagonal, last in its row
    above, below = np.diff(turned.indptr) - 1, np.diff(begin)
    # column by column what is mirrored, then what is there
    own = np.repeat(np.arange(2 * count) % 2 == 1, np.stack([above, below], axis=1).ravel())
    number, row = np.empty(len(own), int), np.empty(len(own), np.int32)
    number[own], row[own] = np.arange(len(indices)), indices
    number[~own], row[~own] = np.delete(turned.data, inner), np.delete(turned.indices, inner)
    return Pattern(row, begin + np.append(0, np.cumsum(above)).astype(np.int32)), number


def _solver(factors: Any) -> Solve:
    solve: Solve = factors.solve
    return solve


def _superlu(matrix: Any, order: str) -> Any:
    from scipy.sparse.linalg import splu

    return splu(matrix, permc_spec=order, diag_pivot_thresh=0.0, panel_size=PANEL,
                options={"SymmetricMode": True})
