"""The solver against scipy.optimize: the same systems, solved by somebody else's method."""

from __future__ import annotations

from math import dist
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import fsolve, least_squares

from sketcher.part.kinds import bind, settle_sides
from sketcher.part.store import load
from sketcher.part.value import LineCurve, Part, frozen
from sketcher.solve import solve
from sketcher.solve.system import System
from tests.demo_parts import SOUND as DEMO
from tests.specimens import strip


@pytest.mark.parametrize("path", DEMO, ids=lambda p: p.name.split(".")[0])
def test_demo_parts_agree_with_least_squares(path: Path) -> None:
    part = settle_sides(load(path))
    solution = solve(part)
    assert solution.report.converged
    system = System(part)
    # far from the solution trf may end elsewhere; 1 % off it has to come back to the same point
    rng = np.random.default_rng(4)
    ours = System(solution.part).x0
    start = ours + rng.uniform(-0.01, 0.01, len(ours)) * system.size
    theirs = least_squares(system.residual, start, system.dense_jacobian, method="trf",
                           xtol=1e-15, ftol=1e-15, gtol=1e-15)
    assert np.abs(theirs.fun).max() < 1e-9 * system.size
    np.testing.assert_allclose(theirs.x, ours, atol=1e-8 * system.size)


@pytest.mark.parametrize("path", DEMO, ids=lambda p: p.name.split(".")[0])
def test_demo_parts_are_solved_to_rounding(path: Path) -> None:
    solution = solve(load(path))
    system = System(solution.part)
    assert solution.report.state == "bound"
    assert max(map(abs, solution.report.residuals.values())) <= 1e-11 * system.size
    assert np.abs(system.residual(system.x0)).max() <= 1e-13 * system.size
    for curve in solution.part.curves.values():
        if curve.kind == "arc":
            one, other = (dist(solution.part.points[curve.center], solution.part.points[end])
                          for end in curve.ends)
            assert abs(one - other) <= 1e-13 * system.size


@pytest.mark.parametrize("count", [5, 21, 61])
def test_waves_agree_with_least_squares(count: int) -> None:
    part, exact = strip(count, rough=0.3, seed=count)
    system = System(part)
    theirs = least_squares(system.residual, system.x0, system.dense_jacobian, method="lm",
                           xtol=1e-15, ftol=1e-15, gtol=1e-15)
    other = system.to_part(theirs.x)
    ours = solve(part).part
    for name, place in exact.items():
        assert ours.points[name] == pytest.approx(place, abs=1e-10)
        assert other.points[name] == pytest.approx(place, abs=1e-7)


def test_a_loose_bar_ends_where_the_nearest_solution_is() -> None:
    """Smallest move onto |b - a| = 7 from a given sketch, by scipy's constrained minimiser."""
    from scipy.optimize import minimize

    start = np.array([0.0, 0.0, 6.0, 2.0])
    theirs = minimize(
        lambda v: ((v - start) ** 2).sum(), start, method="SLSQP", tol=1e-14,
        constraints={"type": "eq", "fun": lambda v: np.hypot(v[2] - v[0], v[3] - v[1]) - 7.0})
    part = Part(points=frozen({"a": (0.0, 0.0), "b": (6.0, 2.0)}),
                curves=frozen({"e": LineCurve(("a", "b"))}))
    part = part.having(bindings={"b1": bind(part, "distance", ["e"], "7")})
    at = solve(part).part.points
    np.testing.assert_allclose([*at["a"], *at["b"]], theirs.x, atol=1e-6)


def test_a_linkage_written_out_by_hand_agrees_with_fsolve() -> None:
    """Two bars on a base (a four-bar's coupler triangle) in plain coordinates."""
    def rows(v: np.ndarray) -> list[float]:
        (px, py, qx, qy) = v
        return [np.hypot(px, py) - 5.0, np.hypot(qx - 9.0, qy) - 6.0,
                np.hypot(qx - px, qy - py) - 7.0, np.arctan2(py, px) - np.radians(70.0)]

    theirs = fsolve(rows, [1.5, 4.5, 8.0, 6.0], xtol=1e-14)
    points = {"o": (0.0, 0.0), "k": (9.0, 0.0), "p": (1.5, 4.5), "q": (8.0, 6.0)}
    part = Part(points=frozen(points), curves=frozen({
        "e1": LineCurve(("o", "p")), "e2": LineCurve(("k", "q")), "e3": LineCurve(("p", "q"))}))
    listed = [("fixed", ["o"], None), ("fixed", ["k"], None), ("distance", ["e1"], "5"),
              ("distance", ["e2"], "6"), ("distance", ["e3"], "7"), ("angle", ["e1"], "70")]
    part = part.having(bindings={f"b{k}": bind(part, *one) for k, one in enumerate(listed)})
    at = solve(part).part.points
    np.testing.assert_allclose([*at["p"], *at["q"]], theirs, rtol=1e-10)
