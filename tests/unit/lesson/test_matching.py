"""Components, matching and block triangular form against networks worked by hand and scipy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.sparse import csr_array
from scipy.sparse.csgraph import connected_components, maximum_bipartite_matching

from sketcher.lesson.matching import blocks, matching, strong_components


def patterns(seed: int, rows: int, columns: int, share: float) -> list[list[int]]:
    rng = np.random.default_rng(seed)
    return [np.flatnonzero(row).tolist() for row in rng.random((rows, columns)) < share]


def table(pattern: list[list[int]], columns: int) -> csr_array:
    out = np.zeros((len(pattern), columns))
    for row, at in enumerate(pattern):
        out[row, at] = 1
    return csr_array(out)


@pytest.mark.parametrize("seed", range(12))
def test_matching_is_as_large_as_scipy_finds(seed: int) -> None:
    pattern = patterns(seed, 25, 20 + seed, 0.08)
    found = matching(pattern, 20 + seed)
    used = [row for row in found if row >= 0]
    assert len(set(used)) == len(used)
    assert all(column in pattern[row] for column, row in enumerate(found) if row >= 0)
    other = maximum_bipartite_matching(table(pattern, 20 + seed), perm_type="row")
    assert len(used) == np.count_nonzero(other >= 0)


@pytest.mark.parametrize("seed", range(8))
def test_strong_components_agree_with_scipy(seed: int) -> None:
    needs = patterns(seed, 30, 30, 0.05)
    found = strong_components(needs)
    count, other = connected_components(table(needs, 30), directed=True, connection="strong")
    assert max(found) + 1 == count
    assert len(set(zip(found, other.tolist(), strict=True))) == count


def test_blocks_come_after_what_they_need() -> None:
    # Row 0 gives column 2; rows 1 and 2 give columns 0 and 3 together; row 3 then gives column 1.
    pattern = [[2], [0, 2, 3], [0, 3], [1, 0]]
    row_of = matching(pattern, 4)
    assert sorted(row_of) == [0, 1, 2, 3]
    assert blocks(pattern, row_of, lambda c: (c,)) == [[2], [0, 3], [1]]


def test_ties_go_by_rank() -> None:
    pattern = [[0], [1], [2], [0, 3]]
    row_of = matching(pattern, 4)
    assert blocks(pattern, row_of, lambda c: (-c,)) == [[2], [1], [0], [3]]
    assert blocks(pattern, row_of, lambda c: (c,)) == [[0], [1], [2], [3]]


@pytest.mark.parametrize("seed", range(6))
def test_blocks_are_triangular(seed: int) -> None:
    pattern = [sorted({k, *row}) for k, row in enumerate(patterns(seed, 40, 40, 0.04))]
    row_of = matching(pattern, 40)
    assert min(row_of) >= 0
    known: set[int] = set()
    for block in blocks(pattern, row_of, lambda c: (c,)):
        known.update(block)
        assert all(known.issuperset(pattern[row_of[c]]) for c in block)
    assert known == set(range(40))
