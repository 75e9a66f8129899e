"""Offsets against shapely's buffer of ever finer chords."""

from __future__ import annotations

import random
from itertools import pairwise
from math import cos, pi, sin, tau

import numpy as np
import pytest
from shapely.geometry import LineString, Polygon

from sketcher.geometry.curve_table import CurveTable
from sketcher.geometry.curves import Arc, Line
from sketcher.geometry.evaluate import midpoint, reversed_curve
from sketcher.geometry.moments import signed_area
from sketcher.geometry.offset_curves import around, offset
from tests.chords import facet


def blob(seed):
    """A closed run of lines and arcs round the origin, with concave and convex corners."""
    rng = random.Random(seed)
    n = rng.randint(4, 9)
    corners = []
    for k in range(n):
        angle, radius = tau * (k + rng.uniform(-0.3, 0.3)) / n, rng.uniform(6.0, 14.0)
        corners.append((radius * cos(angle), radius * sin(angle)))
    curves = []
    for p, q in pairwise((*corners, corners[0])):
        mode = rng.choice("lloi")
        if mode == "l":
            curves.append(Line(p, q))
            continue
        k = rng.uniform(0.8, 3.0) * (1 if mode == "o" else -1)
        center = (0.5 * (p[0] + q[0]) - k * (q[1] - p[1]), 0.5 * (p[1] + q[1]) + k * (q[0] - p[0]))
        curves.append(Arc(center, p, q, ccw=mode == "o"))
    return curves


def chorded(curves, sagitta):
    points = [tuple(p) for c in curves for p in facet(c, sagitta)[:-1]]
    return Polygon(points)


@pytest.mark.parametrize("seed", range(40))
@pytest.mark.parametrize("distance", [1.0, 3.0, -1.0, -4.0])
def test_closed_offsets_have_the_area_of_a_buffer(seed, distance):
    curves = blob(seed)
    # Chords of 1e-4 under some 100 of boundary lose 2/3 * 1e-4 * 100 of area. With chords of 1e-5
    # shapely's own buffer goes wrong by up to a half (its areas with 1e-2 to 1e-4 and a count of
    # random points agree with each other, and with ours).
    fine = chorded(curves, 1e-4)
    assert fine.is_valid
    expected = fine.buffer(-distance, quad_segs=256)
    runs = offset(curves, distance)
    assert all(run.closed for run in runs)
    found = sum(signed_area(run.curves) for run in runs)
    assert found == pytest.approx(expected.area, abs=1e-2)
    table = CurveTable(curves)
    for run in runs:
        for curve in run.curves:
            middle = np.array([midpoint(curve)])
            apart = table.distances_to_all(middle).min()
            assert apart == pytest.approx(abs(distance), abs=1e-9)


@pytest.mark.parametrize("seed", range(30))
def test_outline_around_an_open_run_is_its_buffer(seed):
    rng = random.Random(seed)
    at, heading, path = (0.0, 0.0), 0.0, []
    for _ in range(rng.randint(2, 5)):
        heading += rng.uniform(-1.2, 1.2)
        length = rng.uniform(5.0, 12.0)
        to = (at[0] + length * cos(heading), at[1] + length * sin(heading))
        path.append(Line(at, to))
        at = to
    expected = LineString([path[0].start, *(c.end for c in path)]).buffer(1.2, quad_segs=256)
    runs = around(path, 1.2)
    assert sum(signed_area(run.curves) for run in runs) == pytest.approx(expected.area, abs=1e-3)
    back = around([reversed_curve(c) for c in reversed(path)], 1.2)
    assert sum(signed_area(run.curves) for run in back) == pytest.approx(expected.area, abs=1e-3)


def test_offset_of_a_convex_outline_by_steiner():
    """Steiner: area + perimeter d + pi d^2 for a convex outline (any text on convex geometry)."""
    curves = [
        Line((0.0, 0.0), (10.0, 0.0)), Arc((10.0, 3.0), (10.0, 0.0), (10.0, 6.0)),
        Line((10.0, 6.0), (2.0, 6.0)), Line((2.0, 6.0), (0.0, 0.0)),
    ]
    perimeter = sum(c.length for c in curves)
    for d in (0.1, 1.0, 7.5):
        (run,) = offset(curves, -d)
        assert signed_area(run.curves) == pytest.approx(
            signed_area(curves) + perimeter * d + pi * d * d, rel=1e-12
        )
