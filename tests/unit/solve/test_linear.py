"""The linear step against numpy's pseudo-inverse and against Lagrange's equations."""

from __future__ import annotations

import numpy as np
import pytest

from sketcher.part.value import Binding
from sketcher.solve.linear import LEFT, Apply, Rows
from sketcher.solve.normal import Normal
from sketcher.solve.search import search
from sketcher.solve.system import SMALL, System
from tests.specimens import frame, said, strip


@pytest.mark.parametrize("count", [9, 61])
def test_the_step_is_the_smallest_that_takes_the_rows_away(count: int) -> None:
    part, _ = strip(count, rough=0.2)
    loose = {n: b for n, b in part.bindings.items() if n[0] not in "dr"}
    system = System(part.having(bindings=loose))
    assert system.small == (count < 20)
    assert system.height < system.width
    rows = system.residual(system.x0)
    step = Rows(system, system.x0).step(rows)
    # Golub & Van Loan, Matrix Computations, 5.5: the minimum-norm solution is pinv(J) rows
    expected = np.linalg.pinv(system.dense_jacobian(system.x0)) @ rows
    np.testing.assert_allclose(step, expected, atol=1e-9 * np.abs(expected).max())


@pytest.mark.parametrize("count", [9, 61])
def test_weights_make_heavy_unknowns_move_less(count: int) -> None:
    part, _ = strip(count, rough=0.2)
    system = System(part.having(bindings={
        n: b for n, b in part.bindings.items() if n[0] not in "dr"}))
    weights = np.random.default_rng(3).uniform(0.05, 1.0, system.width)
    rows = system.residual(system.x0)
    step = Rows(system, system.x0, weights=weights).step(rows)
    jacobian = system.dense_jacobian(system.x0)
    # minimum of step' W^-1 step under J step = rows, as one symmetric system
    zero = np.zeros((system.height, system.height))
    whole = np.block([[np.diag(1.0 / weights), jacobian.T], [jacobian, zero]])
    expected = np.linalg.solve(whole, np.concatenate([np.zeros(system.width), rows]))
    np.testing.assert_allclose(step, expected[: system.width], rtol=1e-6, atol=1e-9)


@pytest.mark.parametrize("copies", [1, 60])
def test_rows_said_twice_do_no_harm(copies: int) -> None:
    points, lines, bindings = {}, [], []
    for k in range(copies):
        points |= {f"a{k}": (0.0, 3.0 * k), f"b{k}": (4.0, 3.0 * k + 0.2)}
        lines.append((f"a{k}", f"b{k}"))
        bindings += [said("distance", f"e{k + 1}", value="5"),
                     said("distance", f"a{k}", f"b{k}", value="5")]
    system = System(frame(points, lines, *bindings))
    assert system.small == (max(system.width, system.height) < SMALL) == (copies == 1)
    rows = system.residual(system.x0)
    step = Rows(system, system.x0).step(rows)
    expected = np.linalg.lstsq(system.dense_jacobian(system.x0), rows, rcond=1e-9)[0]
    np.testing.assert_allclose(step, expected, atol=1e-9)


def test_a_row_without_derivatives_is_borne_in_a_large_system() -> None:
    part, _ = strip(61)
    held = part.having(
        points={**part.points, "u": (0.0, 50.0), "v": (3.0, 50.0)},
        bindings={**part.bindings, "f1": Binding("fixed", ("u",)), "f2": Binding("fixed", ("v",)),
                  "d": Binding("distance", ("u", "v"), "3")})
    system = System(held)
    assert not system.small
    step = Rows(system, system.x0).step(system.residual(system.x0))
    assert np.abs(step).max() < 1e-9


@pytest.mark.parametrize(("count", "steps", "refined"), [(2001, 4, False), (10001, 5, True)])
def test_a_solve_is_refined_where_the_ridge_tells(
    count: int, steps: int, refined: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = []
    factor = Normal.factor

    def counted(self: Normal, *given: object) -> Apply:
        solve = factor(self, *given)
        return lambda rows: made.append(0) or solve(rows)

    monkeypatch.setattr(Normal, "factor", counted)
    system = System(strip(count, rough=0.3)[0])
    found = search(system)
    # as many steps as with every solve refined
    assert found.iterations == steps
    assert (len(made) > steps) == refined
    rows = Rows(system, system.x0)
    start = system.residual(system.x0)
    left = start - rows.change(rows.step(start))
    assert np.abs(left).max() <= LEFT * np.abs(start).max()


def test_damping_shortens_the_step() -> None:
    part, _ = strip(9, rough=0.4)
    system = System(part)
    rows = system.residual(system.x0)
    linear = Rows(system, system.x0)
    lengths = [np.linalg.norm(linear.step(rows, damping)) for damping in (0.0, 0.01, 1.0, 100.0)]
    assert lengths == sorted(lengths, reverse=True)
    np.testing.assert_allclose(linear.change(linear.step(rows)), rows, atol=1e-9)
