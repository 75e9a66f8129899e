"""The normal matrix by its list of products and by scipy, on chains and on a column all share."""

from __future__ import annotations

import numpy as np
import pytest

from sketcher.part.value import Binding, Part
from sketcher.solve import linear
from sketcher.solve.linear import Rows
from sketcher.solve.system import System
from tests.specimens import strip


def hub() -> Part:
    """Strip whose radii are all equal to the first."""
    part, _ = strip(161, rough=0.3)
    equal = {name: Binding("equal", ("a1", "a" + name[1:]))
             for name in part.bindings if name[0] == "r" and name != "r1"}
    return part.having(bindings={**part.bindings, **equal})


@pytest.mark.parametrize("weighted", [False, True])
def test_listed_products_are_those_of_scipy(weighted: bool) -> None:
    system = System(strip(161, rough=0.3)[0])
    weights = np.random.default_rng(3).uniform(0.5, 2.0, system.width) if weighted else None
    jacobian = system.jacobian(system.x0)
    heavy = jacobian if weights is None else jacobian.multiply(weights)
    wanted = (heavy @ jacobian.T).toarray()
    assert system.normal.products is not None
    found = system.normal.product(system.entries(system.x0), weights)
    # rounding of a few products of about 1, summed in another order
    assert np.abs(found.toarray() - wanted).max() <= 1e-14 * np.abs(wanted).max()


def test_a_column_that_all_share_is_not_listed() -> None:
    system = System(hub())
    assert system.normal.products is None
    jacobian = system.jacobian(system.x0)
    found = system.normal.product(system.entries(system.x0))
    assert np.abs((found - jacobian @ jacobian.T).toarray()).max() == 0.0


@pytest.mark.parametrize("damping", [0.0, 1e-3])
def test_every_factorisation_solves_the_dense_equations(
    damping: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(linear, "LEFT", 0.0)  # what the ridge leaves is tried with `Rows`
    system = System(strip(161, rough=0.3)[0])
    rows = system.residual(system.x0)
    jacobian = system.dense_jacobian(system.x0)
    normal = jacobian @ jacobian.T
    wanted = jacobian.T @ np.linalg.solve(normal + damping * np.eye(len(normal)), rows)
    for _ in range(3):  # in the order that SuperLU finds, and twice in the one that is known
        step = Rows(system, system.x0).step(rows, damping)
        # the damped one has the ridge besides, some 1e-11 of the step; rounding is below that
        assert np.abs(step - wanted).max() <= 1e-10 * np.abs(wanted).max()


def test_factors_are_freed_with_their_rows() -> None:
    import gc
    import weakref

    system = System(strip(161, rough=0.3)[0])
    rows = Rows(system, system.x0)
    rows.step(system.residual(system.x0))
    gc.disable()
    try:
        gone = weakref.ref(rows)
        del rows
        assert gone() is None
    finally:
        gc.enable()
