"""Constrained least squares and the motions left, against scipy (general numerical library)."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.linalg import null_space as scipy_null_space
from scipy.optimize import minimize

from sketcher.part.kinds import bind
from sketcher.part.store import load
from sketcher.part.value import LineCurve, Part
from sketcher.solve import solve
from sketcher.solve.free_motions import FreeMotions, Gradient, gradients
from sketcher.solve.freedom import freedoms
from sketcher.solve.least_moves import least_moved, without_redundant
from sketcher.solve.rank import null_space
from sketcher.solve.system import System
from tests import demo_parts


def quadrangle() -> Part:
    ends = {"e1": ("a", "b"), "e2": ("b", "c"), "e3": ("c", "d"), "e4": ("d", "a")}
    part = Part(
        points={"a": (0.0, 0.02), "b": (10.0, -0.01), "c": (10.03, 6.0), "d": (-0.02, 5.97)},
        curves={name: LineCurve(pair) for name, pair in ends.items()})
    return part.having(bindings={
        f"b{n}": bind(part, kind, of) for n, (kind, of) in enumerate((
            ("parallel", ("e1", "e3")), ("square", ("e2", "e1")), ("equal", ("e2", "e4"))), 1)})


def test_least_moves_are_those_of_a_general_minimiser() -> None:
    part, doubts = quadrangle(), np.array([1.0, 1.0, 2.0, 2.0, 0.5, 0.5, 1.0, 3.0])
    found = least_moved(part, doubts)
    assert found is not None
    system = System(part)
    drawn = system.slots.values(part)

    def cost(x):
        return float((((x - drawn) / doubts) ** 2).sum())

    theirs = minimize(cost, drawn, method="SLSQP", tol=1e-14,
                      constraints={"type": "eq", "fun": system.residual})
    mine = system.slots.values(found)
    assert theirs.success
    assert np.abs(system.residual(mine)).max() <= 1e-9
    assert 0.999 * theirs.fun <= cost(mine) <= (1.0 + 1e-9) * theirs.fun


def test_what_contradicts_has_no_least_moves() -> None:
    part = quadrangle()
    bindings = {**part.bindings, "b8": bind(part, "distance", ("a", "b"), "10"),
                "b9": bind(part, "distance", ("c", "d"), "4")}
    assert least_moved(part.having(bindings=bindings), np.ones(8)) is None


def test_what_follows_is_left_out() -> None:
    part = least_moved(quadrangle(), np.ones(8))
    assert part is not None
    part = part.having(bindings={**part.bindings, "b4": bind(part, "parallel", ("e2", "e4"))})
    assert sorted(without_redundant(part)) == ["b1", "b2", "b3"]


@pytest.mark.parametrize("shape", [(3, 7), (7, 7), (9, 5)])
def test_null_space_is_that_of_scipy(shape: tuple[int, int]) -> None:
    matrix = np.random.default_rng(5).standard_normal(shape)
    matrix[-1] = matrix[0] + matrix[1]
    mine, theirs = null_space(matrix), scipy_null_space(matrix)
    assert mine.shape == theirs.shape
    assert mine @ mine.T == pytest.approx(theirs @ theirs.T, abs=1e-12)


def test_null_space_of_a_large_sparse_matrix_is_that_of_scipy() -> None:
    from scipy.sparse import random_array

    matrix = random_array((180, 260), density=0.03, rng=np.random.default_rng(3)).tocsr()
    mine = null_space(matrix)
    assert mine.T @ mine == pytest.approx(np.eye(mine.shape[1]), abs=1e-10)
    theirs = scipy_null_space(matrix.toarray())
    assert mine.shape == theirs.shape
    assert mine @ mine.T == pytest.approx(theirs @ theirs.T, abs=1e-8)


@pytest.mark.parametrize("path", demo_parts.SOUND, ids=lambda path: path.stem)
def test_motions_left_are_the_freedoms_of_the_solver(path) -> None:
    """Binding after binding is taken away: both ways of counting agree each time."""
    part = solve(load(path)).part
    names = list(part.bindings)
    for count in range(len(names), 0, -5):
        some = part.having(bindings={name: part.bindings[name] for name in names[:count]})
        system = System(some)
        expected = freedoms(system, system.x0, solved=False).count
        left = FreeMotions.of_all(some, 1e-9)
        for rows in gradients(some).values():
            for row in rows:
                left.add(row)
        assert left.count == expected
        assert FreeMotions.under(some, 1e-9, np.ones(left.slots.count)).count == expected


def test_motions_that_many_rows_leave_are_those_of_scipy() -> None:
    """So many rows that they are put to the basis several times, and some wait, and some follow."""
    rng = np.random.default_rng(11)
    part = Part(points={f"p{n}": tuple(rng.uniform(0.0, 50.0, 2)) for n in range(60)})
    scale = rng.uniform(0.5, 2.0, 120)
    left = FreeMotions(FreeMotions.of_all(part, 1e-9).slots, np.eye(120), scale, 1e-9)
    rows = [Gradient(rng.choice(120, 5, replace=False), rng.standard_normal(5)) for _ in range(85)]
    whole = np.zeros((85, 120))
    for k, row in enumerate(rows):
        whole[k, row.slots] = row.entries
        assert left.add(row)
        if k % 10 == 9:
            null = scipy_null_space(whole[:k + 1] * scale)
            assert left.count == null.shape[1]
            for other in rows[k + 1:k + 5]:
                said = np.zeros(120)
                said[other.slots] = other.entries
                assert np.linalg.norm(left.seen(other)) == pytest.approx(
                    np.linalg.norm(said * scale @ null), rel=1e-10)
            assert not left.add(rows[k // 2])


def test_what_is_moved_is_told_by_each_row_and_keeps_all_that_was_added() -> None:
    rng = np.random.default_rng(12)
    part = Part(points={f"p{n}": tuple(rng.uniform(0.0, 50.0, 2)) for n in range(60)})
    scale = rng.uniform(0.5, 2.0, 120)
    left = FreeMotions(FreeMotions.of_all(part, 1e-9).slots, np.eye(120), scale, 1e-9)
    rows = [Gradient(rng.choice(120, 5, replace=False), rng.standard_normal(5)) for _ in range(70)]
    amounts = rng.uniform(-1.0, 1.0, 70)
    apart = np.zeros(120)
    for row, amount in zip(rows, amounts, strict=True):
        seen = left.seen(row)
        share = seen * ((amount - left.moved(row)) / float(seen @ seen))
        apart += left.along(share)
        left.move(share)
        left.add(row)
        assert left.moved(row) == pytest.approx(amount, abs=1e-10)
    assert left.shift == pytest.approx(apart, abs=1e-10)
    for row, amount in zip(rows, amounts, strict=True):
        assert row.entries @ left.shift[row.slots] == pytest.approx(amount, abs=1e-9)
    afresh = left.copy()
    assert afresh.count == left.count == 50
    assert not afresh.shift.any()
