"""Fillets and chamfers on every pairing of line and arc, whichever way the curves run."""

from __future__ import annotations

from itertools import product
from math import cos, hypot, pi, radians, sin, sqrt, tan

import pytest

from sketcher.errors import GeometryError
from sketcher.geometry.corner_blends import chamfer, corner_of, fillet
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.evaluate import joint_angle, reversed_curve
from sketcher.geometry.project import distance
from tests.refusals import refused

CORNER = (0.0, 0.0)
LEVEL = Line((-20.0, 0.0), CORNER)
STEEP = Line(CORNER, (6.0, 20.0))
BOW = Arc((0.0, -12.0), CORNER, (12.0, -12.0), ccw=False)
HOOK = Arc((-9.0, 0.0), CORNER, (-9.0, 9.0))
PAIRS = [(LEVEL, STEEP), (LEVEL, HOOK), (STEEP, BOW), (BOW, HOOK), (STEEP, HOOK)]


@pytest.mark.parametrize(("a", "b"), PAIRS)
@pytest.mark.parametrize(("back_a", "back_b"), list(product((False, True), repeat=2)))
def test_fillet_of_a_shared_corner_is_smooth_and_cuts_it_off(a, b, back_a, back_b):
    a = reversed_curve(a) if back_a else a
    b = reversed_curve(b) if back_b else b
    made = fillet(a, b, 1.25)
    assert made.arc.radius == pytest.approx(1.25)
    assert made.corner == pytest.approx(CORNER, abs=1e-12)
    for kept, at in ((made.a, made.at_a), (made.b, made.at_b)):
        assert distance(kept, at) <= 1e-12
        assert joint_angle(kept, made.arc, at) <= 1e-12
        assert distance(kept, CORNER) > 0.1
    assert made.a.length < a.length
    assert made.b.length < b.length
    # Directions of travel stay.
    assert (made.a.start == a.start) or (made.a.end == a.end)


def test_fillet_where_lines_cross_takes_the_sector_pointed_at():
    a, b = Line((-10.0, 0.0), (10.0, 0.0)), Line((0.0, -10.0), (0.0, 10.0))
    for sx, sy in product((1.0, -1.0), repeat=2):
        assert fillet(a, b, 2.0, near=(3 * sx, 3 * sy)).center == pytest.approx((2 * sx, 2 * sy))


def test_fillet_of_lines_that_stop_short_extends_them():
    made = fillet(Line((-10.0, 0.0), (-4.0, 0.0)), Line((0.0, 4.0), (0.0, 10.0)), 3.0)
    assert made.at_a == pytest.approx((-3.0, 0.0))
    assert made.at_b == pytest.approx((0.0, 3.0))
    assert made.a.length == pytest.approx(7.0)
    assert made.b.length == pytest.approx(7.0)


def test_fillet_that_does_not_fit():
    with refused("fillet", GeometryError):
        fillet(LEVEL, STEEP, 50.0)
    with refused("fillet", GeometryError):
        fillet(Line((0.0, 0.0), (1.0, 0.0)), Line((0.0, 5.0), (1.0, 5.0)), 1.0)


def test_fillet_on_a_whole_circle_leaves_it():
    ring = Circle((0.0, 10.0), 6.0)
    made = fillet(Line((-20.0, 0.0), (20.0, 0.0)), ring, 4.0, near=(8.0, 4.0))
    assert made.b is ring
    assert made.center == pytest.approx((8.0, 4.0))


def test_chamfer_of_two_lines():
    made = chamfer(LEVEL, STEEP, 2.0, 3.0)
    assert made.line.start == pytest.approx((-2.0, 0.0))
    length = hypot(6.0, 20.0)
    assert made.line.end == pytest.approx((18.0 / length, 60.0 / length))
    assert made.a == Line((-20.0, 0.0), made.line.start)
    assert made.b == Line(made.line.end, (6.0, 20.0))
    assert made.corner == CORNER


@pytest.mark.parametrize(("a", "b"), PAIRS)
def test_chamfer_legs_are_straight_distances(a, b):
    made = chamfer(reversed_curve(a), b, 1.5)
    assert hypot(*made.line.start) == pytest.approx(1.5)
    assert hypot(*made.line.end) == pytest.approx(1.5)
    assert distance(made.a, made.line.start) <= 1e-12
    assert made.b.length < b.length


def test_chamfer_at_a_crossing_takes_the_sector_pointed_at():
    a, b = Line((-10.0, 0.0), (10.0, 0.0)), Line((0.0, -10.0), (0.0, 10.0))
    made = chamfer(a, b, 2.0, near=(-1.0, 1.0))
    assert made.line.start == pytest.approx((-2.0, 0.0))
    assert made.line.end == pytest.approx((0.0, 2.0))


def test_chamfer_errors():
    with refused("leg_b", GeometryError):
        chamfer(LEVEL, STEEP, 1.0, -1.0)
    with refused("curves", GeometryError):
        chamfer(LEVEL, Line((0.0, 1.0), (5.0, 1.0)), 1.0)
    with refused("chamfer", GeometryError):
        chamfer(LEVEL, STEEP, 30.0)


def test_corner_of_curves_that_meet_only_when_extended():
    short = Line((0.0, 4.0), (0.0, 10.0))
    assert corner_of(LEVEL, short) == pytest.approx((0.0, 0.0))
    assert corner_of(Line((-9.0, 4.0), (9.0, 4.0)), Circle((0, 0), 5.0), near=(4.0, 4.0)) == (
        pytest.approx((3.0, 4.0))
    )


@pytest.mark.parametrize("degrees", [30, 45, 60, 90, 120, 150])
def test_tangent_length_of_a_fillet(degrees):
    # Route surveying: T = R cot(phi / 2); removed area is checked with the handbook elsewhere.
    phi = radians(degrees)
    slanted = Line(CORNER, (-40.0 * cos(phi), 40.0 * sin(phi)))
    made = fillet(Line((-40.0, 0.0), CORNER), slanted, 2.0)
    assert hypot(*made.at_a) == pytest.approx(2.0 / tan(phi / 2))
    assert abs(made.arc.sweep) == pytest.approx(pi - phi)


def test_chamfer_between_a_line_and_a_whole_circle():
    ring = Circle((0.0, 0.0), 5.0)
    made = chamfer(Line((0.0, 0.0), (9.0, 0.0)), ring, 1.0, near=(4.5, 0.5))
    assert made.b is ring
    assert made.corner == pytest.approx((5.0, 0.0))
    assert made.line.start == pytest.approx((4.0, 0.0))
    assert hypot(made.line.end[0] - 5.0, made.line.end[1]) == pytest.approx(1.0)
    assert made.line.end[1] > 0.0


@pytest.mark.parametrize("turn", [30.0, 90.0, 140.0])
def test_a_chamfer_takes_its_legs_from_either_line(turn):
    # Law of cosines: the cut closes a triangle of the two legs and the angle between the lines.
    at = radians(turn)
    cut = chamfer(Line((9.0, 2.0), (29.0, 2.0)),
                  Line((9.0, 2.0), (9.0 + 20.0 * cos(at), 2.0 + 20.0 * sin(at))), 3.0, 5.0)
    assert cut.corner == (9.0, 2.0)
    assert cut.line.start == pytest.approx((12.0, 2.0))
    assert cut.line.end == pytest.approx((9.0 + 5.0 * cos(at), 2.0 + 5.0 * sin(at)))
    assert cut.line.length == pytest.approx(sqrt(9.0 + 25.0 - 30.0 * cos(at)))
    assert (cut.a.length, cut.b.length) == (pytest.approx(17.0), pytest.approx(15.0))
