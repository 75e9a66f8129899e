"""How far from tangency: lengths and angles worked out by hand."""

from __future__ import annotations

from math import degrees, sqrt

import pytest

from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.inspect import tangency

LEVEL = Line((0.0, 0.0), (10.0, 0.0))


@pytest.mark.parametrize(
    ("a", "b", "expected"),
    [
        (LEVEL, Circle((4.0, 5.0), 5.0), 0.0),
        (LEVEL, Circle((4.0, 5.0), 4.0), 1.0),
        (LEVEL, Circle((4.0, -5.0), 5.5), -0.5),
        # R5 about (0,0) and r3 about (10,0) stay 2 apart.
        (Circle((0.0, 0.0), 5.0), Circle((10.0, 0.0), 3.0), 2.0),
        (Circle((0.0, 0.0), 5.0), Circle((2.0, 0.0), 3.0), 0.0),
        # Inside: centers 1 apart where 2 would touch, so 1 is left.
        (Circle((0.0, 0.0), 5.0), Circle((1.0, 0.0), 3.0), 1.0),
        (Line((0.0, 0.0), (10.0, 0.0)), Line((10.0, 0.0), (14.0, 0.25)), 0.25),
    ],
)
def test_residual_is_a_length(a: Line | Circle, b: Line | Circle, expected: float) -> None:
    assert tangency.residual(a, b) == pytest.approx(expected, abs=1e-12)
    assert tangency.residual(b, a) == pytest.approx(expected, abs=1e-12)


def test_arcs_count_as_full_circles() -> None:
    arc = Arc((4.0, 5.0), (9.0, 5.0), (4.0, 10.0))
    assert tangency.residual(LEVEL, arc) == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(
    ("a", "b", "expected"),
    [
        (LEVEL, Line((0.0, 0.0), (1.0, 1.0)), 45.0),
        (LEVEL, Circle((0.0, 1.0), 2.0), 60.0),  # cos = 1 / 2
        (LEVEL, Circle((0.0, 3.0), 2.0), 0.0),
        # Equal circles whose centers are r sqrt(2) apart cross square.
        (Circle((0.0, 0.0), 1.0), Circle((sqrt(2.0), 0.0), 1.0), 90.0),
        (Circle((0.0, 0.0), 5.0), Circle((10.0, 0.0), 3.0), 0.0),
    ],
)
def test_crossing_angle(a: Line | Circle, b: Line | Circle, expected: float) -> None:
    assert degrees(tangency.angle(a, b)) == pytest.approx(expected, abs=1e-9)
    assert degrees(tangency.angle(b, a)) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(
    ("a", "b", "expected"),
    [
        (LEVEL, Circle((4.0, 5.0), 5.0), (4.0, 0.0)),
        (Circle((0.0, 0.0), 5.0), Circle((8.0, 0.0), 3.0), (5.0, 0.0)),
        (Circle((0.0, 0.0), 5.0), Circle((0.0, 2.0), 3.0), (0.0, 5.0)),
        # 2 apart: the middle of the gap.
        (Circle((0.0, 0.0), 5.0), Circle((10.0, 0.0), 3.0), (6.0, 0.0)),
        (LEVEL, Circle((4.0, 6.0), 5.0), (4.0, 0.5)),
    ],
)
def test_place(a: Line | Circle, b: Line | Circle, expected: tuple[float, float]) -> None:
    assert tangency.place(a, b) == pytest.approx(expected, abs=1e-12)
    assert tangency.place(b, a) == pytest.approx(expected, abs=1e-12)
