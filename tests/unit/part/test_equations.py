"""Derivatives of every equation against complex step, central differences and mpmath."""

from __future__ import annotations

import mpmath
import numpy as np
import pytest

from sketcher.part.equations import EQUATIONS, Equation

WISHES = {"AHEAD", "BESIDE", "SAME_X", "SAME_Y"}  # their side is a wish, not an equation
ALL = {name: value for name, value in EQUATIONS.items() if name != "AHEAD"}
COUNT = 25


def sample(equation: Equation, seed: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Random local vectors, values near the actual ones, every side in turn."""
    rng = np.random.default_rng(seed)
    at = rng.uniform(-10.0, 10.0, (COUNT, equation.width))
    at[:, 2 * equation.points:] = rng.uniform(1.0, 5.0, (COUNT, equation.radii))
    side = np.arange(COUNT) % max(len(equation.sides), 1)
    value = rng.uniform(0.1, 1.5, COUNT)
    return at, value, side


@pytest.mark.parametrize("name", ALL)
def test_jacobian_agrees_with_complex_step(name: str) -> None:
    # Squire & Trapp, SIAM Review 40 (1998) 110-112 (from memory): exact to rounding.
    equation = ALL[name]
    at, value, side = sample(equation, 1)
    found = equation.jacobian(at, value, side)
    assert found.shape == (COUNT, equation.rows, equation.width)
    for slot in range(equation.width):
        moved = at.astype(complex)
        moved[:, slot] += 1e-200j
        expected = equation.residual(moved, value, side).imag / 1e-200
        np.testing.assert_allclose(found[:, :, slot], expected, rtol=1e-12, atol=1e-13)


@pytest.mark.parametrize("name", ALL)
def test_jacobian_agrees_with_central_differences(name: str) -> None:
    equation = ALL[name]
    at, value, side = sample(equation, 2)
    found = equation.jacobian(at, value, side)
    step = 1e-5
    for slot in range(equation.width):
        ahead, behind = at.copy(), at.copy()
        ahead[:, slot] += step
        behind[:, slot] -= step
        expected = (equation.residual(ahead, value, side)
                    - equation.residual(behind, value, side)) / (2.0 * step)
        # the difference quotient itself is good to about step**2 and 1e-16 / step
        np.testing.assert_allclose(found[:, :, slot], expected, rtol=1e-6, atol=1e-7)


@pytest.mark.parametrize("name", ALL)
def test_entries_outside_the_pattern_vanish(name: str) -> None:
    equation = ALL[name]
    found = equation.jacobian(*sample(equation, 3))
    assert equation.pattern.shape == (equation.rows, equation.width)
    assert not found[:, ~equation.pattern].any()
    assert np.abs(found[:, equation.pattern]).max(axis=0).min() > 0.0


@pytest.mark.parametrize("name", ["POINT_LINE", "ANGLE", "TOUCH_LINE", "SIGNED_BY_ROUND"])
def test_derivative_agrees_with_mpmath(name: str) -> None:
    # mpmath.diff at 50 digits on formulas written out again, independent of the arrays
    equation = ALL[name]
    at, value, side = sample(equation, 4)
    code = int(side[0])

    def formula(*v: mpmath.mpf) -> mpmath.mpf:
        ax, ay, bx, by = v[:4]
        apart = mpmath.sqrt((bx - ax) ** 2 + (by - ay) ** 2)
        if name == "ANGLE":
            cx, cy, dx, dy = v[4:]
            return mpmath.atan2(dy - cy, dx - cx) - mpmath.atan2(by - ay, bx - ax)
        if name == "SIGNED_BY_ROUND":
            return -((bx - ax) * (bx - v[4]) + (by - ay) * (by - v[5])) / apart - v[6]
        off = ((bx - ax) * (v[5] - ay) - (by - ay) * (v[4] - ax)) / apart
        return off - v[6] if name == "TOUCH_LINE" else off

    assert code == 0
    found = equation.jacobian(at[:1], value[:1], side[:1])[0, 0]
    with mpmath.workdps(50):
        place = tuple(mpmath.mpf(float(v)) for v in at[0])
        for slot in range(equation.width):
            order = tuple(int(k == slot) for k in range(equation.width))
            expected = float(mpmath.diff(formula, place, order))
            assert found[slot] == pytest.approx(expected, rel=1e-12, abs=1e-13)


# a signed radius takes the side of its tangency
SIDED = [name for name, eq in ALL.items()
         if eq.sides and not name.startswith("SIGNED") and name not in WISHES]


@pytest.mark.parametrize("name", SIDED)
def test_side_settled_is_the_one_that_fits_best(name: str) -> None:
    equation = ALL[name]
    at, value, _ = sample(equation, 5)
    chosen = equation.settle(at, value)
    off = np.stack([
        np.abs(equation.residual(at, value, np.full(COUNT, code))).sum(axis=1)
        for code in range(len(equation.sides))])
    best = np.abs(equation.residual(at, value, chosen)).sum(axis=1)
    np.testing.assert_allclose(best, off.min(axis=0), atol=1e-9)


@pytest.mark.parametrize("name", sorted(WISHES))
def test_mending_puts_a_wish_right_and_leaves_the_others(name: str) -> None:
    equation = EQUATIONS[name]
    at, value, _ = sample(equation, 6)
    chosen = equation.settle(at, value)
    assert equation.holds(at, chosen).all()
    assert not equation.holds(at, 1 - chosen).any()
    assert set(chosen.tolist()) == {0, 1}
    free = np.ones(at.shape, bool)
    np.testing.assert_array_equal(equation.mended(at, chosen, free), at)
    mended = equation.mended(at, 1 - chosen, free)
    assert equation.holds(mended, 1 - chosen).all()
    np.testing.assert_allclose(np.abs(equation.lean(mended)), np.abs(equation.lean(at)),
                               rtol=1e-12, atol=1e-12)


@pytest.mark.parametrize("name", ["SAME_X", "SAME_Y"])
@pytest.mark.parametrize("held", [0, 1])
def test_mending_turns_a_line_about_its_held_end(name: str, held: int) -> None:
    equation = EQUATIONS[name]
    at, value, _ = sample(equation, 7)
    chosen = equation.settle(at, value)
    free = np.ones(at.shape, bool)
    free[:, 2 * held: 2 * held + 2] = False
    mended = equation.mended(at, 1 - chosen, free)
    assert equation.holds(mended, 1 - chosen).all()
    np.testing.assert_array_equal(mended[~free], at[~free])
