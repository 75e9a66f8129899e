"""Windings, checked with the angle that a fine polygon turns round the point."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, cos, pi, sin, tau

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import point_at, reversed_curve
from sketcher.geometry.winding import Rises

SLOT = (
    Line((0.0, 0.0), (10.0, 0.0)), Arc((10.0, 2.0), (10.0, 0.0), (10.0, 4.0)),
    Line((10.0, 4.0), (0.0, 4.0)), Arc((0.0, 2.0), (0.0, 4.0), (0.0, 0.0)),
)
BITE = (
    Line((-5.0, 0.0), (5.0, 0.0)), Line((5.0, 0.0), (3.0, 0.0)),
    Arc((0.0, 0.0), (3.0, 0.0), (-3.0, 0.0), ccw=False), Line((-3.0, 0.0), (-5.0, 0.0)),
)


def winding(curves: Sequence[Curve], point: XY) -> int:
    """How often closed runs of curves go round a point, counter-clockwise positive."""
    rises = Rises(curves)
    return int(np.sum(rises.sense[rises.crossed(point)]))


def by_angle(curves, point):
    total = 0.0
    for curve in curves:
        angles = [
            atan2(p[1] - point[1], p[0] - point[0])
            for p in (point_at(curve, i / 300) for i in range(301))
        ]
        for a, b in pairwise(angles):
            total += (b - a + pi) % tau - pi
    return round(total / tau)


@pytest.mark.parametrize("curves", [SLOT, BITE, (Circle((3.0, 2.0), 4.0),)])
@given(x=st.floats(-12.0, 16.0), y=st.floats(-6.0, 8.0))
def test_winding_is_the_turn_of_a_polygon(curves, x, y):
    if min(abs(np.hypot(x - p[0], y - p[1]))
           for c in curves for p in (point_at(c, i / 300) for i in range(301))) < 0.05:
        return  # nearer than the polygon is exact
    assert winding(curves, (x, y)) == by_angle(curves, (x, y))


def test_rays_through_vertices_and_along_edges():
    inside = [(x, y) for x in (0.5, 5.0, 9.5) for y in (1e-9, 2.0, 4.0 - 1e-9)]
    outside = [(-1.0, 0.0), (-1.0, 4.0), (-2.5, 2.0), (12.5, 2.0), (-3.0, 4.0), (5.0, 4.0 + 1e-9)]
    assert [winding(SLOT, p) for p in inside] == [1] * len(inside)
    assert [winding(SLOT, p) for p in outside] == [0] * len(outside)
    tips = [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0), (1.0, 0.0)]
    diamond = [Line(p, q) for p, q in pairwise(tips)]
    assert winding(diamond, (0.0, 0.0)) == 1
    assert winding(diamond, (-2.0, 0.0)) == 0
    assert winding([reversed_curve(c) for c in diamond[::-1]], (0.0, 0.0)) == -1


def test_hair_width_from_an_arc():
    ring = [Circle((0.0, 0.0), 1.0)]
    for k in range(50):
        a = k * 0.1234
        assert winding(ring, ((1 - 1e-14) * cos(a), (1 - 1e-14) * sin(a))) == 1
        assert winding(ring, ((1 + 1e-14) * cos(a), (1 + 1e-14) * sin(a))) == 0


def test_many_points_at_once():
    rises = Rises(SLOT)
    points = np.random.default_rng(2).uniform((-3.0, -1.0), (13.0, 5.0), (300, 2))
    at, piece = rises.crossed_by(points)
    for k, p in enumerate(points):
        assert sorted(piece[at == k]) == sorted(rises.crossed(tuple(p)))


def test_a_line_that_hardly_rises_is_where_it_begins_at_its_own_height() -> None:
    # Its run per rise is beyond all numbers, and that times no rise is none.
    rises = Rises([Line((2.0, 0.0), (1e5, 1e-305))])
    assert rises.crossed((0.0, 0.0)).tolist() == [0]
    assert rises.crossed((3.0, 0.0)).tolist() == []
    at, k = rises.crossed_by(np.array([[0.0, 0.0], [3.0, 0.0]]))
    assert (at.tolist(), k.tolist()) == ([0], [0])
