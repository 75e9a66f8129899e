"""Points, directions and images of curves."""

from __future__ import annotations

from itertools import pairwise
from math import cos, hypot, pi, radians, sin, tau

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketcher.errors import GeometryError
from sketcher.geometry import evaluate as ev
from sketcher.geometry.curves import Arc, Circle, Line
from tests.refusals import refused

QUARTER = Arc((1.0, 2.0), (4.0, 2.0), (1.0, 5.0))
ALL = [Line((1.0, 2.0), (5.0, -1.0)), QUARTER, ev.reversed_curve(QUARTER), Circle((2.0, -1.0), 3.0)]


def close(a: tuple[float, float], b: tuple[float, float], tol: float = 1e-12) -> bool:
    return hypot(a[0] - b[0], a[1] - b[1]) <= tol


@pytest.mark.parametrize("curve", ALL[:3])
def test_stored_ends_come_back_bit_by_bit(curve):
    assert ev.point_at(curve, 0.0) == curve.start
    assert ev.point_at(curve, 1.0) == curve.end


def test_points_of_a_quarter():
    assert close(ev.midpoint(QUARTER), (1 + 3 * cos(pi / 4), 2 + 3 * sin(pi / 4)))
    assert close(ev.point_at(QUARTER, 1 / 3), (1 + 3 * cos(pi / 6), 3.5))
    assert close(ev.point_at(QUARTER, 2.0), (-2.0, 2.0))  # the circle goes on


@pytest.mark.parametrize("curve", ALL)
@pytest.mark.parametrize("t", [0.0, 0.3, 1.0])
def test_tangent_is_the_derivative_by_length(curve, t):
    h = 1e-6
    (x0, y0), (x1, y1) = ev.point_at(curve, t - h), ev.point_at(curve, t + h)
    by_difference = ((x1 - x0) / (2 * h * curve.length), (y1 - y0) / (2 * h * curve.length))
    assert close(ev.tangent_at(curve, t), by_difference, 1e-8)  # differences at h = 1e-6
    assert close(ev.direction_at(curve, ev.point_at(curve, t)), ev.tangent_at(curve, t))


def test_joint_angles():
    line = Line((0.0, 0.0), (10.0, 0.0))
    smooth = Arc((10.0, 5.0), (10.0, 0.0), (15.0, 5.0))
    assert ev.joint_angle(line, smooth, (10.0, 0.0)) == 0.0
    # Whichever way either curve runs.
    for a in (line, ev.reversed_curve(line)):
        for b in (smooth, ev.reversed_curve(smooth)):
            assert ev.joint_angle(a, b, (10.0, 0.0)) == pytest.approx(0.0, abs=1e-15)
    cusp = Arc((10.0, 5.0), (10.0, 0.0), (5.0, 5.0), ccw=False)
    assert ev.joint_angle(line, cusp, (10.0, 0.0)) == pytest.approx(pi)
    corner = Line((10.0, 0.0), (10.0 + 3 * cos(radians(15)), 3 * sin(radians(15))))
    assert ev.joint_angle(line, corner, (10.0, 0.0)) == pytest.approx(radians(15))
    assert ev.angle_between(line, corner) == pytest.approx(radians(15))
    assert ev.angle_between(line, ev.reflected(corner, line)) == pytest.approx(-radians(15))


def test_a_line_is_travelled_as_another_from_whichever_end():
    east, back = Line((0.0, 0.0), (10.0, 1.0)), Line((7.0, 9.0), (2.0, 9.5))
    assert ev.travelled_as(back, east) == Line((2.0, 9.5), (7.0, 9.0))
    assert ev.travelled_as(east, east) == east
    assert ev.travelled_as(Line((0.0, 0.0), (-1.0, 10.0)), east) == Line((0.0, 0.0), (-1.0, 10.0))


@pytest.mark.parametrize("curve", ALL)
def test_reflection_moves_every_point_alike_and_is_its_own_inverse(curve):
    axis = Line((0.5, -2.0), (3.0, 4.0))
    image = ev.reflected(curve, axis)
    assert image.length == pytest.approx(curve.length)
    if not isinstance(curve, Circle):  # a circle starts at its own right
        for t in (0.0, 0.2, 1.0):
            assert close(ev.point_at(image, t), ev.reflected_point(ev.point_at(curve, t), axis))
    again = ev.reflected(image, axis)
    assert all(close(ev.point_at(again, t), ev.point_at(curve, t)) for t in (0.0, 0.4, 1.0))


def test_points_on_the_axis_stay():
    axis = Line((0.0, 0.0), (3.0, 4.0))
    assert ev.reflected_point((6.0, 8.0), axis) == (6.0, 8.0)
    with refused("axis", GeometryError):
        ev.reflected_point((1.0, 1.0), Line((2.0, 2.0), (2.0, 2.0)))


@pytest.mark.parametrize("curve", ALL)
def test_moves_and_scales(curve):
    x, y = ev.point_at(curve, 0.0)
    assert close(ev.point_at(ev.moved(curve, 2.0, -3.0), 0.0), (x + 2.0, y - 3.0))
    assert ev.scaled(curve, 2.5, (7.0, 1.0)).length == pytest.approx(2.5 * curve.length)
    with refused("factor", GeometryError):
        ev.scaled(curve, 0.0)


@given(st.lists(st.floats(0.001, 0.999), max_size=6, unique=True))
def test_pieces_add_up_to_the_curve(cuts):
    for curve in ALL:
        pieces = ev.split(curve, cuts)
        if isinstance(curve, Circle) and not cuts:
            assert pieces == ()
            continue
        assert sum(p.length for p in pieces) == pytest.approx(curve.length)
        assert all(a.end == b.start for a, b in pairwise(pieces))


def test_circle_splits_across_its_start():
    one, two = ev.split(Circle((0.0, 0.0), 2.0), [0.25, 0.75])
    assert close(one.start, (0.0, 2.0))
    assert close(two.end, (0.0, 2.0))
    assert one.sweep == pytest.approx(pi)
    (whole,) = ev.split(Circle((0.0, 0.0), 2.0), [0.0])
    assert whole.sweep == tau
    assert ev.piece(Circle((0.0, 0.0), 2.0), 0.75, 0.25).sweep == pytest.approx(-pi)
    with refused("piece", GeometryError):
        ev.piece(QUARTER, 0.5, 0.5)


def test_directions_where_there_is_none():
    assert ev.direction_at(QUARTER, QUARTER.center) == (0.0, 0.0)
    assert ev.tangent_at(Line((1.0, 1.0), (1.0, 1.0)), 0.5) == (0.0, 0.0)


def test_a_piece_has_a_length_from_a_billionth_of_a_thousandth_on():
    line = Line((0.0, 0.0), (1.0, 0.0))
    assert ev.piece(line, 0.0, 1.5e-12).end == pytest.approx((1.5e-12, 0.0))
    with refused("piece", GeometryError):
        ev.piece(line, 0.0, 0.7e-12)
