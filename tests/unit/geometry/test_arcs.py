"""Arcs from points, radius, direction and bulge."""

from __future__ import annotations

from math import atan, hypot, nextafter, pi, sqrt, tan

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sketcher.errors import GeometryError
from sketcher.exchange.dxf_curves import arc_from_bulge
from sketcher.geometry import arcs
from sketcher.geometry.curves import Arc
from sketcher.geometry.evaluate import midpoint, reversed_curve, tangent_at
from sketcher.geometry.project import distance
from tests.refusals import refused

POINT = st.tuples(st.integers(-50, 50).map(float), st.integers(-50, 50).map(float))


@given(POINT, POINT, POINT)
def test_arc_through_three_points_passes_them_in_order(a, b, c):
    assume(abs((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) > 0.5)
    arc = arcs.arc_through(a, b, c)
    assert (arc.start, arc.end) == (a, c)
    assert distance(arc, b) <= 1e-10 * arc.radius


def test_points_in_line_have_no_circle():
    with refused("points", GeometryError):
        arcs.circle_through((0.0, 0.0), (1.0, 1.0), (3.0, 3.0))
    with refused("points", GeometryError):
        arcs.circle_through((0.0, 0.0), (0.0, 0.0), (3.0, 3.0))


def test_arc_of_a_radius_has_four_forms():
    for ccw in (True, False):
        for long_way in (True, False):
            arc = arcs.arc_of_radius((0.0, 0.0), (6.0, 0.0), 5.0, ccw, long_way)
            assert arc.radius == 5.0
            assert (abs(arc.sweep) > pi) == long_way
            assert abs(arc.center[1]) == pytest.approx(4.0)
            assert (arc.sweep > 0) == ccw
    assert arcs.arc_of_radius((0.0, 0.0), (6.0, 0.0), 3.0).sweep == pytest.approx(pi)
    with refused("radius", GeometryError):
        arcs.arc_of_radius((0.0, 0.0), (6.0, 0.0), 2.9)
    with refused("ends", GeometryError):
        arcs.arc_of_radius((0.0, 0.0), (0.0, 0.0), 2.9)


@given(POINT, POINT)
def test_arc_that_leaves_along_a_direction(start, end):
    direction = (0.6, 0.8)
    across = (end[1] - start[1]) * 0.6 - (end[0] - start[0]) * 0.8
    assume(abs(across) > 0.1)
    arc = arcs.arc_from_tangent(start, direction, end)
    assert tangent_at(arc, 0.0) == pytest.approx(direction, abs=1e-11)
    assert hypot(end[0] - arc.center[0], end[1] - arc.center[1]) == pytest.approx(arc.radius)


def test_no_arc_straight_ahead():
    with refused("end", GeometryError):
        arcs.arc_from_tangent((0.0, 0.0), (1.0, 0.0), (5.0, 0.0))


@given(POINT, POINT, st.floats(0.01, 20.0), st.booleans())
def test_bulge_there_and_back(start, end, value, clockwise):
    assume(start != end)
    value = -value if clockwise else value
    arc = arc_from_bulge(start, end, value)
    assert arcs.bulge(arc) == pytest.approx(value, rel=1e-9)
    assert arcs.bulge(reversed_curve(arc)) == pytest.approx(-value, rel=1e-9)
    chord = hypot(end[0] - start[0], end[1] - start[1])
    # DXF reference: the bulge is the height over half the chord.
    middle = midpoint(arc)
    height = hypot(middle[0] - 0.5 * (start[0] + end[0]), middle[1] - 0.5 * (start[1] + end[1]))
    assert height == pytest.approx(abs(value) * chord / 2, rel=1e-9)
    assert 4.0 * atan(value) == pytest.approx(arc.sweep, rel=1e-9)


def test_bulges_of_known_arcs():
    half = Arc((0.0, 0.0), (1.0, 0.0), (-1.0, 0.0))
    assert arcs.bulge(half) == pytest.approx(1.0)
    quarter = Arc((0.0, 0.0), (1.0, 0.0), (0.0, 1.0))
    assert arcs.bulge(quarter) == pytest.approx(sqrt(2) - 1)
    assert tan(pi / 8) == pytest.approx(sqrt(2) - 1)
    for bad in (((0.0, 0.0), (1.0, 0.0), 0.0), ((1.0, 0.0), (1.0, 0.0), 0.5)):
        with pytest.raises(ValueError, match="bulge"):
            arc_from_bulge(*bad)


@pytest.mark.parametrize("chord", [1e-3, 6.0, 1e6])
def test_a_radius_that_rounding_made_a_little_short_still_makes_the_half_circle(chord):
    arc = arcs.arc_of_radius((0.0, 0.0), (chord, 0.0), nextafter(0.5 * chord, 0.0))
    assert arc.center == pytest.approx((0.5 * chord, 0.0), abs=1e-6 * chord)
    with refused("radius", GeometryError):
        arcs.arc_of_radius((0.0, 0.0), (chord, 0.0), 0.4999 * chord)
