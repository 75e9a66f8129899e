"""Tangent lines touch, are square to the radius, and are labelled by their side."""

from __future__ import annotations

from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketcher.errors import GeometryError
from sketcher.geometry.curves import Circle, Line
from sketcher.geometry.project import signed_distance
from sketcher.geometry.tangent_lines import common_tangents, tangents_from
from tests.refusals import refused

COORDINATE = st.integers(-40, 40).map(lambda n: n / 4)
RADIUS = st.integers(1, 30).map(lambda n: n / 4)
CIRCLES = st.builds(Circle, st.tuples(COORDINATE, COORDINATE), RADIUS)


@given(st.tuples(COORDINATE, COORDINATE), CIRCLES)
def test_from_a_point(point, circle):
    apart = hypot(point[0] - circle.center[0], point[1] - circle.center[1])
    found = tangents_from(point, circle)
    assert len(found) == (2 if apart > circle.radius else 0)
    for line, side in zip(found, (1.0, -1.0), strict=False):
        assert line.start == point
        assert abs(signed_distance(Circle(circle.center, circle.radius), line.end)) < 1e-12
        assert signed_distance(line, circle.center) == pytest.approx(side * circle.radius)
        assert line.length**2 == pytest.approx(apart**2 - circle.radius**2)


@given(CIRCLES, CIRCLES)
def test_common_to_two_circles(first, second):
    apart = hypot(
        second.center[0] - first.center[0], second.center[1] - first.center[1]
    )
    if apart == 0.0:
        with refused("circles", GeometryError):
            common_tangents(first, second)
        return
    found = common_tangents(first, second)
    outer = [t for t in found if t.kind == "outer"]
    inner = [t for t in found if t.kind == "inner"]
    assert len(outer) == (2 if apart > abs(first.radius - second.radius) else 0)
    assert len(inner) == (2 if apart > first.radius + second.radius else 0)
    for line, kind, side in found:
        hand = 1.0 if side == "left" else -1.0
        other = hand if kind == "outer" else -hand
        for ring, sense in ((first, hand), (second, other)):
            assert signed_distance(line, ring.center) == pytest.approx(
                sense * ring.radius, abs=1e-7  # short inner lines of circles that nearly touch
            )


def test_circles_that_touch_keep_their_outer_pair():
    touching = Circle((0.0, 0.0), 5.0), Circle((8.0, 0.0), 3.0)
    assert [t.kind for t in common_tangents(*touching, tol=1e-9)] == ["outer", "outer"]


def test_circle_of_radius_zero_is_a_point():
    found = common_tangents(Circle((4.0, 0.0), 0.0), Circle((0.0, 0.0), 2.0))
    ends = {(round(t.line.end[0], 12), round(abs(t.line.end[1]), 12)) for t in found}
    assert ends == {(1.0, round(3**0.5, 12))}
    assert Line((4.0, 0.0), (1.0, 3**0.5)).length == pytest.approx(found[0].line.length)
