"""Newton's method: how fast it converges, how it is damped, how it ends without a solution."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from sketcher.solve.newton import newton
from sketcher.solve.system import System
from tests.specimens import frame, said, strip


def triangle(*sides: float) -> System:
    points = {"a": (0.0, 0.0), "b": (4.2, 0.3), "c": (1.0, 3.5)}
    return System(frame(
        points, [("a", "b"), ("b", "c"), ("c", "a")],
        *(said("distance", f"e{k}", value=repr(side)) for k, side in enumerate(sides, 1))))


def test_it_converges_quadratically() -> None:
    system = triangle(4.0, 5.0, 3.0)
    worst = [newton(system, system.x0, most=k).worst for k in range(5)]
    for before, after in pairwise(worst[1:]):
        assert after <= max(before**2, 4e-15)
    assert worst[4] < 1e-14


@pytest.mark.parametrize("count", [5, 21, 101])
def test_a_rough_wave_takes_few_steps(count: int) -> None:
    part, _ = strip(count, rough=0.5)
    system = System(part)
    found = newton(system, system.x0)
    assert found.converged
    assert found.iterations <= 6
    assert found.worst <= 2e-15 * system.size


def test_without_a_solution_it_stops_at_the_least_squares() -> None:
    system = triangle(1.0, 2.0, 5.0)
    found = newton(system, system.x0)
    assert not found.converged
    assert found.iterations < 60
    # the misfit of 2 is shared by the three sides of a flat triangle
    assert np.abs(system.residual(found.x)) == pytest.approx([2 / 3] * 3, abs=1e-2)


def test_a_start_without_any_extent_is_left() -> None:
    system = System(frame({"a": (1.0, 1.0), "b": (1.0, 1.0)}, [("a", "b")],
                          said("distance", "e1", value="6")))
    found = newton(system, system.x0)
    assert found.converged
    at = system.to_part(found.x).points
    assert np.hypot(*np.subtract(at["a"], at["b"])) == pytest.approx(6.0)


def test_other_values_take_the_place_of_the_wanted_ones() -> None:
    system = triangle(4.0, 5.0, 3.0)
    found = newton(system, system.x0, values=np.array([6.0, 5.0, 3.0]))
    at = system.to_part(found.x).points
    assert np.hypot(*np.subtract(at["a"], at["b"])) == pytest.approx(6.0)
    measured = system.measured(found.x)
    np.testing.assert_allclose(measured, [6.0, 5.0, 3.0], rtol=1e-12)


def test_nothing_to_solve_takes_no_step() -> None:
    system = System(frame({"a": (1.0, 1.0)}, []))
    found = newton(system, system.x0)
    assert (found.converged, found.iterations, found.worst) == (True, 0, 0.0)


@pytest.mark.parametrize(("misfit", "converged"), [(1.5e-9, False), (0.7e-9, True)])
def test_solved_is_a_billionth_of_the_size(misfit: float, converged: bool) -> None:
    # Sides of 3 and 4 cannot reach farther than 7: what is beyond is shared by the three.
    system = triangle(3.0, 4.0, 7.0 * (1.0 + 3.0 * misfit))
    found = newton(system, system.x0)
    assert found.converged is converged
    assert abs(found.worst / system.size - 1e-9) < 0.6e-9
    assert found.worst == np.abs(system.residual(found.x)).max()


def test_what_no_step_betters_is_solved_or_not_by_the_size() -> None:
    # So far from the origin a coordinate is no better than 1e-9: nothing finer is reached.
    far = {"a": (1e7, 1e7), "b": (1e7 + 420.0, 1e7 + 30.0), "c": (1e7 + 100.0, 1e7 + 350.0)}
    system = System(frame(
        far, [("a", "b"), ("b", "c"), ("c", "a")],
        *(said("distance", f"e{k}", value=v) for k, v in enumerate(("400", "500", "300"), 1))))
    found = newton(system, system.x0)
    assert found.converged is True
    assert found.iterations < 20
    assert 1e-11 < found.worst < 1e-8


def test_an_end_by_idle_steps_is_no_solution() -> None:
    system = triangle(1.0, 2.0, 5.0)
    assert newton(system, system.x0).converged is False
    stretched = triangle(3.0, 4.0, 7.0)  # a double root, of which each step finds half the rest
    found = newton(stretched, stretched.x0)
    assert found.converged is True
    assert found.worst == np.abs(stretched.residual(found.x)).max() <= 1e-12 * stretched.size
    assert 15 < found.iterations < 30
