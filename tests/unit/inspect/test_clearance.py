"""The narrowest place between two curves, against many points on both."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import point_at
from sketcher.inspect.clearance import narrowest

RNG = np.random.default_rng(7)


def some_curve(kind: int) -> Curve:
    x, y = RNG.uniform(-10, 10, 2)
    if kind == 0:
        return Line((x, y), tuple(RNG.uniform(-10, 10, 2)))
    radius = RNG.uniform(0.5, 5.0)
    if kind == 1:
        return Circle((x, y), radius)
    a, b = RNG.uniform(0, 2 * np.pi, 2)
    ends = [(x + radius * np.cos(t), y + radius * np.sin(t)) for t in (a, b)]
    return Arc((x, y), ends[0], ends[1], bool(RNG.integers(2)))


def sampled(a: Curve, b: Curve, count: int = 400) -> float:
    """Least distance of points on both, each at most a step beyond the true one."""
    one, two = (
        np.array([point_at(c, t) for t in np.linspace(0.0, 1.0, count)]) for c in (a, b)
    )
    return float(np.hypot(*(one[:, None] - two[None]).transpose(2, 0, 1)).min())


@pytest.mark.parametrize(("one", "two"), list(itertools.combinations_with_replacement(range(3), 2)))
def test_agrees_with_many_points(one: int, two: int) -> None:
    for _ in range(60):
        a, b = some_curve(one), some_curve(two)
        found = narrowest(a, b)
        if found.width:
            assert narrowest(a, b, apart=True) == found
        # Between neighbouring samples lies at most half a step of either curve.
        slack = 0.5 * (a.length + b.length) / 399
        assert found.width <= sampled(a, b) + 1e-9
        assert found.width >= sampled(a, b) - slack
        assert np.hypot(
            found.on_a[0] - found.on_b[0], found.on_a[1] - found.on_b[1]
        ) == pytest.approx(found.width, abs=1e-9)
        for curve, t, at in ((a, found.a, found.on_a), (b, found.b, found.on_b)):
            assert point_at(curve, t) == pytest.approx(at, abs=1e-6)


def test_parallel_lines_are_met_in_the_middle() -> None:
    found = narrowest(Line((0.0, 0.0), (10.0, 0.0)), Line((14.0, 2.0), (4.0, 2.0)))
    assert found.width == pytest.approx(2.0)
    assert found.middle == pytest.approx((7.0, 1.0))


def test_concentric_circles() -> None:
    assert narrowest(Circle((1.0, 2.0), 5.0), Circle((1.0, 2.0), 3.0)).width == pytest.approx(2.0)
