"""Nearest places, checked against the least of many distances."""

from __future__ import annotations

from math import hypot, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.evaluate import point_at, reversed_curve
from sketcher.geometry.project import distance, in_sweep, nearest, parameter_at, signed_distance

WIDE = Arc((0.0, 0.0), (5.0, 0.0), (0.0, -5.0))  # three quarters of a turn
ALL = [Line((-3.0, 1.0), (4.0, 2.0)), WIDE, reversed_curve(WIDE), Circle((1.0, 1.0), 2.0)]
COORDINATE = st.floats(-9.0, 9.0)


@pytest.mark.parametrize("curve", ALL)
@given(x=COORDINATE, y=COORDINATE)
def test_nearest_is_the_least_distance(curve, x, y):
    sampled = min(
        hypot(px - x, py - y) for px, py in (point_at(curve, i / 400) for i in range(401))
    )
    found = nearest(curve, (x, y))
    # The samples are at most 0.031 * 2 apart, so that the least of them is at most that much more.
    assert found.distance <= sampled + 1e-12
    assert found.distance >= sampled - 0.07
    assert distance(curve, (x, y)) == pytest.approx(found.distance, abs=1e-12)
    assert point_at(curve, found.parameter) == found.point


def test_unbounded_places():
    line, arc = ALL[0], ALL[1]
    beyond = point_at(line, 3.0)
    assert nearest(line, beyond, bounded=False).distance == pytest.approx(0.0, abs=1e-14)
    assert nearest(line, beyond).point == line.end
    off_sweep = (3.0, -4.0)
    assert distance(arc, off_sweep, bounded=False) == pytest.approx(0.0, abs=1e-15)
    assert nearest(arc, off_sweep).point == (0.0, -5.0) or nearest(arc, off_sweep).point == (5.0, 0)
    assert nearest(arc, (1.0, -0.9)).point == (5.0, 0.0)
    assert nearest(arc, (0.9, -1.0)).point == (0.0, -5.0)


def test_parameters_of_an_arc_beyond_its_ends():
    quarter = Arc((0.0, 0.0), (1.0, 0.0), (0.0, 1.0))
    assert parameter_at(quarter, (2.0, 2.0)) == pytest.approx(0.5)
    assert parameter_at(quarter, (1.0, -1.0)) == pytest.approx(-0.5)
    assert parameter_at(quarter, (-1.0, 1.0)) == pytest.approx(1.5)
    back = reversed_curve(quarter)
    assert parameter_at(back, (1.0, -1.0)) == pytest.approx(1.5)
    assert parameter_at(Circle((0.0, 0.0), 1.0), (0.0, -3.0)) == pytest.approx(0.75)
    assert parameter_at(Line((1.0, 1.0), (1.0, 1.0)), (4.0, 4.0)) == 0.0


def test_left_is_positive():
    assert signed_distance(Line((0.0, 0.0), (5.0, 0.0)), (1.0, 2.0)) == 2.0
    assert signed_distance(Circle((0.0, 0.0), 5.0), (1.0, 0.0)) == 4.0
    assert signed_distance(ALL[1], (0.0, 6.0)) == -1.0
    assert signed_distance(ALL[2], (0.0, 6.0)) == 1.0
    assert signed_distance(Line((1.0, 1.0), (1.0, 1.0)), (4.0, 5.0)) == 5.0


def test_sweep_with_a_length_of_slack():
    quarter = Arc((0.0, 0.0), (2.0, 0.0), (0.0, 2.0))
    assert in_sweep(quarter, (2.0, 0.0))
    assert in_sweep(quarter, (1.0, 5.0))
    assert not in_sweep(quarter, (2.0, -0.01))
    assert in_sweep(quarter, (2.0, -0.01), tol=0.02)
    assert quarter.sweep == pytest.approx(pi / 2)
