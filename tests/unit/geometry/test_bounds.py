"""Boxes, checked with many points of the curve."""

from __future__ import annotations

from math import cos, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketcher.errors import GeometryError
from sketcher.geometry.bounds import bounds, bounds_of, size_of, tolerance
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.evaluate import point_at
from tests.refusals import refused

ANGLES = st.floats(-10.0, 10.0)


@given(ANGLES, ANGLES, st.floats(0.1, 50.0), st.booleans())
def test_box_of_an_arc_is_tight(first, last, radius, ccw):
    arc = Arc(
        (3.0, -2.0),
        (3.0 + radius * cos(first), -2.0 + radius * sin(first)),
        (3.0 + radius * cos(last), -2.0 + radius * sin(last)),
        ccw,
    )
    points = [point_at(arc, i / 720) for i in range(721)]
    x0, y0, x1, y1 = bounds(arc)
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    # 720 steps of at most half a degree each miss a quadrant by at most radius * (0.25 deg)^2 / 2.
    slack = radius * 1e-5
    assert min(xs) - slack <= x0 <= min(xs) + 1e-12 * radius + 1e-14
    assert min(ys) - slack <= y0 <= min(ys) + 1e-12 * radius + 1e-14
    assert max(xs) - 1e-12 * radius - 1e-14 <= x1 <= max(xs) + slack
    assert max(ys) - 1e-12 * radius - 1e-14 <= y1 <= max(ys) + slack


def test_boxes_of_line_circle_and_several():
    line, circle = Line((4.0, 1.0), (-1.0, 7.0)), Circle((2.0, 3.0), 5.0)
    assert bounds(line) == (-1.0, 1.0, 4.0, 7.0)
    assert bounds(circle) == (-3.0, -2.0, 7.0, 8.0)
    assert bounds_of([line, circle]) == (-3.0, -2.0, 7.0, 8.0)
    assert size_of([line, circle]) == 10.0
    assert size_of([]) == 0.0
    with refused("curves", GeometryError, remedy=False):
        bounds_of([])


def test_tolerance_grows_with_size_and_with_distance_from_the_origin():
    assert tolerance([Line((0.0, 0.0), (10.0, 2.0))]) == pytest.approx(1e-8)
    far = tolerance([Line((1e9, 0.0), (1e9 + 10.0, 2.0))])
    assert far == pytest.approx(64 * 2**-52 * 1e9)
    assert tolerance([]) == 0.0
