"""Narrow places are metal, or air, the whole way across: shapely judges, on chords of its own."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest
from shapely.geometry import LineString, Polygon

from sketcher.geometry.evaluate import point_at
from sketcher.inspect.necks import find_necks
from sketcher.inspect.profile import Contour
from sketcher.part.value import Part
from tests.plates import looked_at, plate, polygon, rectangle

CHORDS = 400
SHORT = 0.02
"""Share left out at either end: chords of the widest hole here lie 2e-4 off their arc."""


def crowded(seed: int) -> Part:
    """A bar with steps along its edges, holes amid it and slots along and across it."""
    random = Random(seed)
    high = random.uniform(14.0, 30.0)
    points, lines = polygon(
        (0.0, 0.0), (60.0, 0.0), (60.0, random.uniform(1.0, 3.0)), (75.0, 3.5), (75.0, -2.0),
        (130.0, -2.0), (130.0, high), (20.0, high), (20.0, high - random.uniform(1.0, 4.0)),
        (15.0, high - 4.5), (15.0, high), (0.0, high))
    x = 4.0
    for k in range(12):
        size = random.uniform(1.0, 0.42 * high)
        x += 0.5 * size + random.uniform(0.3, 2.0)
        if x + size > 128.0:
            break
        y = 0.5 * high + random.uniform(-0.5, 0.5) * max(0.0, high - size - 11.0)
        if k % 3:
            points[f"c{k}"] = (x, y)
            lines[f"h{k}"] = (f"c{k}", 0.5 * size)
        else:
            more, edges = rectangle(size, 0.5 * size, at=(x - 0.5 * size, y), prefix=f"r{k}_")
            points |= more
            lines |= edges
        x += 0.5 * size
    return plate(points, lines, thickness=12.0)


def ring(contour: Contour) -> list[tuple[float, float]]:
    return [point_at(curve, t) for curve in contour.shapes
            for t in np.linspace(0.0, 1.0, CHORDS, endpoint=False)]


@pytest.mark.parametrize("seed", range(8))
def test_what_is_told_as_metal_or_air_is_so_all_the_way(seed: int) -> None:
    profile = looked_at(crowded(seed)).profile
    assert not profile.crossings
    solid = Polygon(*[next(ring(one) for one in profile.plate if not one.hole),
                      [ring(one) for one in profile.plate if one.hole]])
    assert solid.is_valid
    necks = find_necks(profile.plate, 24.0, True)
    assert {neck.material for neck in necks} == {True, False}
    for neck in necks:
        way = LineString([neck.place.on_a, neck.place.on_b])
        ends = (SHORT * way.length, (1.0 - SHORT) * way.length)
        inner = LineString([way.interpolate(at) for at in ends])
        if neck.material:
            assert solid.covers(inner), neck.ids
        else:
            assert not solid.intersects(inner), neck.ids
