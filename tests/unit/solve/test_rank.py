"""Rank, dependencies and motions: the sparse way against the dense one."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.sparse import csr_array

from sketcher.part.value import Binding
from sketcher.solve.freedom import directions
from sketcher.solve.rank import PROBES, SMALL, judge, tolerance
from sketcher.solve.system import System
from tests.specimens import strip

RNG = np.random.default_rng(3)


def banded(rows: int, columns: int) -> np.ndarray:
    out = np.zeros((rows, columns))
    for row in range(rows):
        at = (row * columns // rows + np.arange(4)) % columns
        out[row, at] = RNG.uniform(0.5, 2.0, 4) * RNG.choice([-1, 1], 4)
    return out


@pytest.mark.parametrize(("rows", "columns", "repeats"), [
    (200, 200, 0), (180, 200, 0), (200, 200, 3), (160, 240, 12), (240, 160, 0), (300, 160, 2)])
def test_sparse_agrees_with_dense(rows: int, columns: int, repeats: int) -> None:
    a = banded(rows, columns)
    for k in range(repeats):
        a[rows - 1 - k] = 3.0 * a[k] - 0.5 * a[k + 20]
    dense, sparse = judge(a), judge(csr_array(a))
    assert sparse.rank == dense.rank == np.linalg.matrix_rank(a)
    assert sparse.dependencies.shape == (rows - dense.rank, rows)
    one, other = (r.dependencies.T @ r.dependencies for r in (dense, sparse))
    assert np.abs(one - other).max(initial=0.0) < 1e-8
    assert sparse.motions.shape == (columns, min(PROBES, columns - dense.rank))
    assert np.abs(a @ sparse.motions).max(initial=0.0) < 1e-9
    still = np.abs(dense.motions).max(axis=1, initial=0.0) < 1e-9
    assert np.array_equal(still, np.abs(sparse.motions).max(axis=1, initial=0.0) < 1e-9)


def test_a_value_said_twice_in_a_long_chain_is_found() -> None:
    part, _ = strip(2001)
    twice = {f"again{k}": Binding("distance", (f"e{k}",), "10") for k in (0, 1000)}
    loose = {n: b for n, b in part.bindings.items() if n != "f"}
    system = System(part.having(bindings={**loose, **twice}))
    matrix = system.jacobian(system.x0)
    found = judge(matrix)
    assert (found.rank, len(found.dependencies)) == (system.width - 2, 2)
    assert np.abs(matrix @ found.motions).max() < 1e-13
    owners = {system.binding_ids[system.row_binding[row]]
              for row in np.flatnonzero(np.abs(found.dependencies).max(axis=0) > 1e-9)}
    assert owners == {"l0", "again0", "l1000", "again1000"}


@pytest.mark.parametrize("columns", [21, 2 * SMALL + 1])
def test_every_point_that_can_move_both_ways_does_so(columns: int) -> None:
    matrix = np.zeros((1, columns))
    matrix[0, 0] = 1.0
    given = matrix if columns <= SMALL else csr_array(matrix)
    ways = directions(judge(given).motions, np.arange(1, columns).reshape(-1, 2))
    assert ways == [((1.0, 0.0), (0.0, 1.0))] * (columns // 2)


def test_rows_of_zeros_are_dependent() -> None:
    a = np.zeros((3, 2))
    a[0, 0], a[2, 0] = 1.0, 2.0
    found = judge(a)
    assert found.rank == 1
    scaled = np.array([[1.0, 0.0], [0.0, 0.0], [1.0, 0.0]])
    assert np.abs(found.dependencies @ scaled).max() < 1e-15
    assert found.dependencies.shape == (2, 3)
    assert np.abs(found.motions.ravel()) == pytest.approx([0.0, 1.0])


@pytest.mark.parametrize("shape", [(0, 0), (0, 5), (4, 0)])
def test_nothing_to_judge(shape: tuple[int, int]) -> None:
    found = judge(np.zeros(shape))
    assert found.rank == 0
    assert found.dependencies.shape == (shape[0], shape[0])
    assert found.motions.shape[0] == shape[1]


def test_scale_of_rows_changes_nothing() -> None:
    a = RNG.normal(size=(5, 6))
    a[4] = a[0] + a[1]
    assert judge(a * np.array([1e-6, 1.0, 1e6, 1.0, 1e3])[:, None]).rank == 4


def test_tolerance_falls_with_size() -> None:
    assert tolerance(1) == tolerance(SMALL) == 1e-8
    assert 1e-12 <= tolerance(10 * SMALL) < 1.1e-10


@pytest.mark.parametrize("shape", [(3, 2), (0, 4), (2, 9)])
def test_rows_that_say_nothing_leave_every_motion(shape: tuple[int, int]) -> None:
    found = judge(np.zeros(shape))
    assert found.rank == 0
    np.testing.assert_array_equal(found.dependencies, np.eye(shape[0]))
    rows, columns = found.motions.shape
    assert rows == shape[1]
    assert np.linalg.matrix_rank(found.motions) == columns >= min(rows, 2)
    np.testing.assert_allclose(np.abs(found.motions).max(axis=0), 1.0)


def test_the_bound_of_a_zero_is_kept_to_a_hundred_and_fifty_columns() -> None:
    assert [tolerance(n) for n in (1, 150, 300, 1500)] == pytest.approx(
        [1e-8, 1e-8, 2.5e-9, 1e-10])
    assert tolerance(10**6) == 1e-12


def test_three_motions_are_enough_to_tell_what_moves() -> None:
    for columns, motions in ((4, 2), (8, 3), (30, 3)):
        found = judge(np.eye(2, columns)).motions
        assert found.shape == (columns, motions)
        assert np.abs(found[:2]).max() < 1e-12
        np.testing.assert_allclose(np.abs(found).max(axis=0), 1.0)
