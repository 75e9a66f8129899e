"""Directions, holes and errors of the moments; values stand with the handbooks'."""

from __future__ import annotations

from math import pi

import pytest

from sketcher.errors import GeometryError
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.evaluate import reversed_curve
from sketcher.geometry.moments import section, signed_area
from tests.loop_moments import loop_moments
from tests.refusals import refused

HALF = [Arc((2.0, 1.0), (5.0, 1.0), (-1.0, 1.0)), Line((-1.0, 1.0), (5.0, 1.0))]


def test_direction_changes_only_the_sign():
    back = [reversed_curve(c) for c in reversed(HALF)]
    assert signed_area(HALF) == pytest.approx(4.5 * pi)
    assert signed_area(back) == pytest.approx(-4.5 * pi)
    one, other = loop_moments(HALF), loop_moments(back)
    assert one.centroid == pytest.approx(other.centroid)
    assert one.central == pytest.approx(other.central)


def test_circle_and_arc_of_a_full_turn_are_the_same():
    circle = loop_moments([Circle((1.0, 2.0), 3.0)])
    turn = loop_moments([Arc((1.0, 2.0), (4.0, 2.0), (4.0, 2.0))])
    assert turn.area == pytest.approx(circle.area)
    assert turn.central == pytest.approx(circle.central, abs=1e-12)
    assert turn.centroid == pytest.approx(circle.centroid)


def test_parallel_axes():
    found = loop_moments([Circle((1.0, 2.0), 3.0)])
    assert (found.ix, found.iy, found.ixy) == found.about((0.0, 0.0))
    assert found.about(found.centroid) == found.central
    assert found.ixy == pytest.approx(9 * pi * 2.0)
    assert found.polar == pytest.approx(pi * 81 / 2)


def test_nothing_and_no_area():
    assert signed_area([]) == 0.0
    with refused("profile", GeometryError, remedy=False):
        section([])
    with refused("profile", GeometryError):
        loop_moments([Line((0, 0), (1, 0)), Line((1, 0), (0, 0))])
    with refused("profile", GeometryError):
        section([([Circle((0, 0), 1)], False), ([Circle((0, 0), 2)], True)])
