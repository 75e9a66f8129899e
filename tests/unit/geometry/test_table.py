"""The columns agree with the one by one functions."""

from __future__ import annotations

import numpy as np
import pytest

from sketcher.geometry.bounds import bounds
from sketcher.geometry.curve_table import CurveTable
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.evaluate import point_at, reversed_curve
from sketcher.geometry.project import distance, parameter_at

WIDE = Arc((1.0, 2.0), (6.0, 2.0), (1.0, -3.0))
CURVES = [
    Line((0.0, 0.0), (4.0, 3.0)), WIDE, reversed_curve(WIDE), Circle((-1.0, 1.0), 2.0),
    Line((2.0, 2.0), (2.0, 2.0)),
]


def test_distances_and_parameters():
    rng = np.random.default_rng(5)
    points = rng.uniform(-8.0, 8.0, (200, 2))
    table = CurveTable(CURVES)
    every = table.distances_to_all(points)
    assert every.shape == (200, 5)
    for k, curve in enumerate(CURVES):
        which = np.full(200, k)
        t = table.parameters(which, points)
        for p, d, u in zip(points, every[:, k], t, strict=True):
            assert d == pytest.approx(distance(curve, tuple(p)), abs=1e-12)
            assert u == pytest.approx(parameter_at(curve, tuple(p)), abs=1e-12)


def test_points_and_boxes():
    table = CurveTable(CURVES)
    assert len(table) == 5
    for k, curve in enumerate(CURVES):
        assert tuple(table.boxes[k]) == bounds(curve)
        for t in (0.0, 0.3, 1.0):
            (found,) = table.points(np.array([k]), np.array([t]))
            assert tuple(found) == pytest.approx(point_at(curve, t), abs=1e-12)
