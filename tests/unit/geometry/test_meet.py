"""Meetings of every pair of line, arc and circle, bounded and not."""

from __future__ import annotations

from itertools import product
from math import cos, hypot, pi, sin, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.evaluate import point_at, reversed_curve
from sketcher.geometry.meet import meet, overlap
from sketcher.geometry.project import distance

LINE = Line((0.0, 0.0), (10.0, 0.0))


def places(found):
    return [m.point for m in found]


def test_two_lines():
    (m,) = meet(LINE, Line((4.0, -1.0), (4.0, 3.0)))
    assert m.point == (4.0, 0.0)
    assert (m.a, m.b, m.kind) == (0.4, 0.25, "crossing")
    short = Line((4.0, 1.0), (4.0, 3.0))
    assert meet(LINE, short) == ()
    assert meet(short, LINE, bounded=(True, False)) == ()
    assert places(meet(LINE, short, bounded=(True, False))) == [(4.0, 0.0)]
    assert meet(LINE, Line((0.0, 1.0), (10.0, 1.0)), bounded=False) == ()


def test_line_through_a_circle_and_an_arc():
    upper = Arc((5.0, 1.0), (7.0, 1.0), (3.0, 1.0))
    assert meet(LINE, upper) == ()
    low = Arc((5.0, 1.0), (3.0, 1.0), (7.0, 1.0))
    one, two = meet(LINE, low)
    assert one.point == pytest.approx((5 - sqrt(3), 0))
    assert two.point == pytest.approx((5 + sqrt(3), 0))
    assert [m.point for m in meet(LINE, upper, bounded=False)] == [one.point, two.point]
    assert two.b == pytest.approx(5 / 6)


@pytest.mark.parametrize("miss", [-0.9e-8, 0.0, 0.9e-8])
def test_touch_within_tolerance_is_one_place(miss):
    (m,) = meet(LINE, Circle((5.0, 3.0 + miss), 3.0))
    assert m.kind == "touch"
    assert m.point == pytest.approx((5.0, 0.0), abs=1e-8)


def test_touch_outside_tolerance():
    assert meet(LINE, Circle((5.0, 3.0 + 2e-8), 3.0)) == ()
    assert len(meet(LINE, Circle((5.0, 3.0 - 2e-8), 3.0))) == 2


@pytest.mark.parametrize("wobble", [0.0, 1e-10, -1e-10, 4e-5, -4e-5])
def test_arc_that_leaves_a_line_meets_it_at_the_shared_end(wobble):
    # A direction off by 4e-5 stays within 1e-9 of the arc over 8e-5 of its radius.
    line = Line((-10.0 * cos(wobble), -10.0 * sin(wobble)), (0.0, 0.0))
    arc = Arc((0.0, 5.0), (0.0, 0.0), (5.0, 5.0))
    for a, b in product((line, reversed_curve(line)), (arc, reversed_curve(arc))):
        (m,) = meet(a, b)
        assert m.point == (0.0, 0.0)
        assert m.a in (0.0, 1.0)
        assert m.b in (0.0, 1.0)
        assert m.kind == "touch"


@pytest.mark.parametrize(
    ("first", "second", "expected"),
    [
        (Circle((0, 0), 5), Circle((8, 0), 3), [(5.0, 0.0)]),
        (Circle((0, 0), 5), Circle((2, 0), 3), [(5.0, 0.0)]),
        (Circle((0, 0), 3), Circle((2, 0), 5), [(-3.0, 0.0)]),
        (Circle((0, 0), 5), Circle((6, 0), 5), [(3.0, 4.0), (3.0, -4.0)]),
        (Circle((0, 0), 5), Circle((0, 0), 3), []),
        (Circle((0, 0), 5), Circle((1, 0), 3), []),
        (Circle((0, 0), 5), Circle((9, 0), 3), []),
    ],
)
def test_two_circles(first, second, expected):
    found = meet(first, second)
    assert places(found) == [pytest.approx(p) for p in expected]
    assert all(m.kind == ("touch" if len(expected) == 1 else "crossing") for m in found)


def test_ends_in_line_meet_without_overlap():
    (m,) = meet(LINE, Line((10.0, 0.0), (12.0, 0.0)))
    assert (m.point, m.a, m.b, m.kind) == ((10.0, 0.0), 1.0, 0.0, "touch")
    assert overlap(LINE, Line((10.0, 0.0), (12.0, 0.0))) == ()


def test_overlapping_lines():
    other = Line((12.0, 0.0), (7.0, 0.0))
    assert meet(LINE, other) == ()
    (shared,) = overlap(LINE, other)
    assert shared.start == pytest.approx((7.0, 0.0))
    assert shared.end == (10.0, 0.0)
    assert overlap(LINE, Line((0.0, 0.1), (10.0, 0.1))) == ()
    assert overlap(LINE, LINE) == (LINE,)


def test_overlapping_arcs_share_up_to_two_pieces():
    wide = Arc((0.0, 0.0), (1.0, 0.0), (0.0, -1.0))
    other = Arc((0.0, 0.0), (-1.0, 0.0), (0.0, 1.0))
    for second in (other, reversed_curve(other)):
        shared = overlap(wide, second)
        assert [p.length for p in shared] == pytest.approx([pi / 2, pi / 2])
        assert all(p.ccw for p in shared)
    assert overlap(Circle((0, 0), 1), Circle((0, 0), 1)) == (Circle((0, 0), 1),)
    assert overlap(Circle((0, 0), 1), wide) == (wide,)
    assert overlap(wide, Circle((0, 0), 2)) == ()


def test_half_turns_meet_at_both_ends_without_overlap():
    upper = Arc((0.0, 0.0), (1.0, 0.0), (-1.0, 0.0))
    lower = Arc((0.0, 0.0), (-1.0, 0.0), (1.0, 0.0))
    assert overlap(upper, lower) == ()
    assert {m.point for m in meet(upper, lower)} == {(1.0, 0.0), (-1.0, 0.0)}


COORDINATE = st.integers(-40, 40).map(lambda n: n / 4)
POINT = st.tuples(COORDINATE, COORDINATE)
LINES = st.builds(Line, POINT, POINT).filter(lambda c: c.length > 0.5)
CIRCLES = st.builds(Circle, POINT, st.integers(1, 30).map(lambda n: n / 4))
ARCS = st.builds(
    lambda c, a, s, ccw: Arc(
        c.center, point_at(c, a), point_at(c, a + s), ccw
    ),
    CIRCLES, st.floats(0, 1), st.floats(0.05, 0.95), st.booleans(),
)
CURVES = st.one_of(LINES, ARCS, CIRCLES)


@given(CURVES, CURVES)
def test_every_meeting_lies_on_both_and_order_does_not_matter(a, b):
    forth, back = meet(a, b), meet(b, a)
    for m in forth:
        assert distance(a, m.point) <= 4e-8
        assert distance(b, m.point) <= 4e-8
        assert hypot(*(p - q for p, q in zip(point_at(a, m.a), m.point, strict=True))) <= 4e-8
        assert hypot(*(p - q for p, q in zip(point_at(b, m.b), m.point, strict=True))) <= 4e-8
    assert len(forth) == len(back)
    assert sorted(m.kind for m in forth) == sorted(m.kind for m in back)


@given(LINES, ARCS)
def test_signs_change_where_a_line_crosses_a_circle(line, arc):
    # Independent count: the distance from the circle changes sign along the line.
    full = Circle(arc.center, arc.radius)
    if any(m.kind == "touch" or m.a in (0.0, 1.0) for m in meet(line, full)):
        return
    inside = [
        hypot(p[0] - full.center[0], p[1] - full.center[1]) < full.radius
        for p in (line.start, line.end)
    ]
    assert len(meet(line, full)) % 2 == (inside[0] != inside[1])
    assert len(meet(line, arc)) <= len(meet(line, full))


def test_a_line_without_length_meets_only_where_it_stands():
    speck = Line((3.0, 0.0), (3.0, 0.0))
    assert meet(speck, Circle((0, 0), 5)) == ()
    assert places(meet(speck, Circle((0, 0), 3))) == [(3.0, 0.0)]
    assert overlap(speck, LINE) == ()
