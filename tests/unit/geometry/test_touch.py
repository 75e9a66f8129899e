"""Touching circles touch what they say, on the side they say."""

from __future__ import annotations

from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketcher.errors import GeometryError
from sketcher.geometry.curves import Circle, Line
from sketcher.geometry.project import signed_distance
from sketcher.geometry.tangent_circles import circles_of_radius, circles_touching, contact
from tests.refusals import refused

COORDINATE = st.integers(-40, 40).map(lambda n: n / 4)
POINT = st.tuples(COORDINATE, COORDINATE)
CIRCLES = st.builds(Circle, POINT, st.integers(1, 30).map(lambda n: n / 4))
LINES = st.builds(Line, POINT, POINT).filter(lambda c: c.length > 1.0)
TOUCHED = st.one_of(POINT, CIRCLES, LINES)


def check(found, given_things, tol):
    for circle, touches, sides in found:
        r = circle.radius
        for thing, at, side in zip(given_things, touches, sides, strict=True):
            reach = hypot(at[0] - circle.center[0], at[1] - circle.center[1])
            assert reach == pytest.approx(r, abs=tol * max(1.0, r))
            if isinstance(thing, Line):
                hand = 1.0 if side == "left" else -1.0
                found_distance = signed_distance(thing, circle.center)
                assert found_distance == pytest.approx(hand * r, abs=tol * max(1.0, r))
            elif isinstance(thing, Circle):
                apart = hypot(
                    circle.center[0] - thing.center[0], circle.center[1] - thing.center[1]
                )
                wanted = {
                    "outside": r + thing.radius,
                    "inside": thing.radius - r,
                    "around": r - thing.radius,
                }[side]
                assert apart == pytest.approx(wanted, abs=tol * max(1.0, r))
            else:
                assert side == "on"
                assert at == thing


@given(TOUCHED, TOUCHED, st.integers(1, 40).map(lambda n: n / 4))
def test_of_a_radius(a, b, radius):
    # Double roots that the tolerance makes one touch are off by at most that tolerance.
    check(circles_of_radius(a, b, radius), (a, b), 2e-7)


@given(TOUCHED, TOUCHED, TOUCHED)
def test_three_of_anything(a, b, c):
    found = circles_touching(a, b, c)
    assert len(found) <= 8
    check(found, (a, b, c), 1e-6)  # nearly parallel lines: the circle is only as sure as they are


def test_all_eight_sides_of_three_distant_circles():
    found = circles_touching(Circle((0, 0), 1), Circle((10, 0), 2), Circle((3, 9), 1.5))
    assert len({f.sides for f in found}) == 8


def test_counts_for_lines():
    triangle = Line((0, 0), (4, 0)), Line((4, 0), (0, 3)), Line((0, 3), (0, 0))
    found = {f.sides: f.circle.radius for f in circles_touching(*triangle)}
    # Inradius and the three exradii of the 3-4-5 triangle: area / (s - a).
    assert sorted(found.values()) == pytest.approx([1.0, 2.0, 3.0, 6.0])
    assert found["left", "left", "left"] == pytest.approx(1.0)
    parallel = Line((0, 0), (4, 0)), Line((0, 2), (4, 2)), Line((0, 3), (4, 3))
    assert circles_touching(*parallel) == ()


def test_given_circles_are_no_solutions():
    kissing = Circle((0, 0), 1), Circle((2, 0), 1), Circle((1, 3**0.5), 1)
    assert len(circles_touching(*kissing)) == 2
    assert circles_touching(Circle((0, 0), 1), Circle((0, 0), 2), Circle((0, 0), 3)) == ()


def test_errors():
    with refused("radius", GeometryError):
        circles_of_radius((0.0, 0.0), (1.0, 0.0), 0.0)
    with refused("circles", GeometryError, remedy=False):
        contact(Circle((0, 0), 1), Circle((0, 0), 2), "inside")
