"""Free curves against scipy's B-splines, and ellipses against their own equation."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from scipy.interpolate import BSpline

from sketcher.geometry.spline import Spline, ellipse_spline


@pytest.mark.parametrize("degree", [1, 2, 3, 5])
@pytest.mark.parametrize("weighted", [False, True])
def test_places_and_derivatives_are_scipys(degree: int, weighted: bool) -> None:
    rng = np.random.default_rng(degree)
    points = rng.uniform(-10, 10, (9, 2))
    inner = np.sort(rng.uniform(0, 1, 8 - degree))
    if degree > 1:  # some are double
        inner[: len(inner) // 2 * 2 : 2] = inner[1 : len(inner) // 2 * 2 : 2]
    knots = np.r_[np.zeros(degree + 1), inner, np.ones(degree + 1)]
    weights = rng.uniform(0.3, 3.0, 9) if weighted else np.ones(9)
    ours = Spline(degree, tuple(knots), tuple(map(tuple, points)),
                  tuple(weights) if weighted else ())
    t = rng.uniform(0, 1, 200)
    places, slopes = ours.at(t)
    held = BSpline(knots, np.column_stack([points * weights[:, None], weights]), degree)
    h, dh = held(t), held.derivative()(t)
    expected = h[:, :2] / h[:, 2:]
    assert places == pytest.approx(expected, abs=1e-12)
    assert slopes == pytest.approx((dh[:, :2] - expected * dh[:, 2:]) / h[:, 2:], abs=1e-9)


def test_ends_belong_to_it() -> None:
    line = Spline(2, (0, 0, 0, 1, 1, 1), ((0, 0), (1, 2), (3, 0)))
    places, slopes = line.at(np.array([0.0, 1.0]))
    assert places == pytest.approx(np.array([(0, 0), (3, 0)]))
    assert slopes == pytest.approx(np.array([(2, 4), (4, -4)]))


@pytest.mark.parametrize("span", [0.3, 0.5 * pi, 3.0, 2.0 * pi])
def test_ellipses_are_exact(span: float) -> None:
    ellipse = ellipse_spline((3, 4), (5, 0), (0, 2), 0.7, 0.7 + span)
    places, _ = ellipse.at(np.linspace(*ellipse.span, 300))
    assert ((places[:, 0] - 3) / 5) ** 2 + ((places[:, 1] - 4) / 2) ** 2 == pytest.approx(
        1.0, abs=1e-14)
    for t, place in ((0.7, places[0]), (0.7 + span, places[-1])):
        assert place == pytest.approx((3 + 5 * np.cos(t), 4 + 2 * np.sin(t)))


@pytest.mark.parametrize(("knots", "weights"), [
    ((0, 0, 0, 1, 1), ()), ((0, 0, 0, 1, 1, 0.5), ()), ((0,) * 6, ()),
    ((0, 0, 0, 1, 1, 1), (1, 0, 1)), ((0, 0, 0, 1, 1, 1), (1, 1)),
    ((0, 0, 0, 1, 1, float("nan")), ())])
def test_what_makes_no_curve(knots: tuple[float, ...], weights: tuple[float, ...]) -> None:
    with pytest.raises(ValueError, match=r"knots|weights|finite"):
        Spline(2, knots, ((0, 0), (1, 2), (3, 0)), weights)
