"""Visible pieces, checked by sampling."""

from __future__ import annotations

from math import acos, cos, pi, sin, tau

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketcher.geometry.clip import visible
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.evaluate import point_at

WINDOW = (-2.0, -1.0, 3.0, 2.0)


def inside(p, slack):
    return (
        WINDOW[0] - slack <= p[0] <= WINDOW[2] + slack
        and WINDOW[1] - slack <= p[1] <= WINDOW[3] + slack
    )


COORDINATE = st.floats(-6.0, 6.0).map(lambda v: round(v, 3))
POINT = st.tuples(COORDINATE, COORDINATE)


@st.composite
def curves(draw):
    kind = draw(st.sampled_from("lac"))
    if kind == "l":
        p, q = draw(POINT), draw(POINT)
        return Line(p, q if q != p else (p[0] + 1.0, p[1]))
    (cx, cy), r = draw(POINT), draw(st.floats(0.1, 6.0))
    if kind == "c":
        return Circle((cx, cy), r)
    a, b = draw(st.floats(0.0, tau)), draw(st.floats(0.1, 6.0))
    ends = [(cx + r * cos(t), cy + r * sin(t)) for t in (a, a + b)]
    return Arc((cx, cy), *ends, ccw=draw(st.booleans()))


@given(curves())
def test_pieces_cover_what_is_inside_and_nothing_else(curve):
    pieces = visible(curve, WINDOW)
    for part in pieces:
        assert all(inside(point_at(part, k / 20), 1e-9) for k in range(21))
    share = sum(inside(point_at(curve, (k + 0.5) / 2000), 0.0) for k in range(2000)) / 2000
    # Sampling finds each of at most eight ends to half a step.
    assert sum(p.length for p in pieces) == pytest.approx(share * curve.length,
                                                         abs=curve.length * 8 / 2000 + 1e-9)


def test_wholly_inside_comes_back_as_it_is():
    for curve in (Line((0, 0), (1, 1)), Circle((0, 0), 0.5)):
        assert visible(curve, WINDOW) == (curve,)
    assert visible(Line((5, 5), (6, 6)), WINDOW) == ()
    assert visible(Line((-2.5, 3.0), (-1.9, 2.05)), WINDOW) == ()


def test_deep_zoom_keeps_the_place_of_a_large_arc():
    r, e = 1000.0, 1e-6
    at = (r * cos(0.7), r * sin(0.7))
    (part,) = visible(Circle((0.0, 0.0), r), (at[0] - e, at[1] - e, at[0] + e, at[1] + e))
    assert part.radius == pytest.approx(r, rel=1e-15)
    assert 2e-6 < part.length < 4e-6
    middle = point_at(part, 0.5)
    assert abs(middle[0] - at[0]) < 1e-6
    assert part.sweep < pi


def test_lines_along_the_sides():
    assert visible(Line((-5.0, 0.5), (5.0, 0.5)), WINDOW) == (Line((-2.0, 0.5), (3.0, 0.5)),)
    assert visible(Line((1.0, 9.0), (1.0, -9.0)), WINDOW) == (Line((1.0, 2.0), (1.0, -1.0)),)
    # Boxes overlap, the line passes the corner outside.
    assert visible(Line((2.5, 3.0), (4.0, 1.5)), WINDOW) == ()
    (edge,) = visible(Line((-5.0, 2.0), (5.0, 2.0)), WINDOW)
    assert edge.length == pytest.approx(5.0)


def test_arc_that_starts_and_ends_inside():
    # Round the outside of the window and back in: the two ends show, the rest does not.
    loop = Arc((3.0, 0.5), (2.0, 1.0), (2.0, 0.0), ccw=False)
    first, last = visible(loop, WINDOW)
    assert first.start == loop.start
    assert last.end == loop.end
    assert first.length == pytest.approx(last.length)


@pytest.mark.parametrize("ccw", [True, False])
@pytest.mark.parametrize(("begin", "end"), [(0.2, 1.0), (-0.3, 0.9), (0.3, 3.4), (-1.0, 1.1)])
def test_an_arc_is_cut_where_the_window_ends(begin, end, ccw):
    # A circle of 1.2 about (2, 0.5) crosses x = 3 at cos(a) = 1/1.2 and y = 2 nowhere.
    ends = [(2.0 + 1.2 * cos(t), 0.5 + 1.2 * sin(t)) for t in (begin, end)]
    arc = Arc((2.0, 0.5), *(ends if ccw else ends[::-1]), ccw=ccw)
    out = min(end, acos(1.0 / 1.2)) - max(begin, -acos(1.0 / 1.2))
    pieces = visible(arc, WINDOW)
    assert sum(p.length for p in pieces) == pytest.approx(1.2 * (end - begin - out))
    assert len(pieces) == (1 if begin > -acos(1.0 / 1.2) or end < acos(1.0 / 1.2) else 2)
