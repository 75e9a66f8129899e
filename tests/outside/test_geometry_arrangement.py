"""Random arrangements: areas must add up, and agree with shapely on fine chords."""

from __future__ import annotations

import random

import pytest
import shapely

from sketcher.geometry.arrangement import OUTSIDE, Arrangement
from sketcher.geometry.curves import Circle, Line
from sketcher.geometry.moments import signed_area
from tests.chords import facet
from tests.seldom import some_of


def random_items(seed, grid=None):
    """Ten to sixty lines and circles on a plate of 100; on a grid many touch and overlap."""
    rng = random.Random(seed)

    def at():
        if grid:
            last = round(100 / grid)
            return (grid * rng.randint(0, last), grid * rng.randint(0, last))
        return (rng.uniform(0.0, 100.0), rng.uniform(0.0, 100.0))

    items = []
    for k in range(rng.randint(10, 60)):
        p, q = at(), at()
        if rng.random() < 0.6 and p != q:
            items.append((f"l{k}", Line(p, q)))
        else:
            radius = grid * rng.randint(1, 4) if grid else rng.uniform(2.0, 25.0)
            items.append((f"c{k}", Circle(p, radius)))
    return items


def arranged(items):
    """The arrangement, after the checks that need nothing from outside."""
    plane = Arrangement(items)
    bounded = [face for face in plane.faces if face.number != OUTSIDE]
    assert all(face.area > 0.0 for face in bounded)
    total = sum(face.area for face in bounded)
    # The outer boundaries, by the moments of their curves instead of the net's sums.
    outer = sum(signed_area(run.curves) for run in plane.outline([f.number for f in bounded]))
    assert total == pytest.approx(outer, rel=1e-11)
    # Euler: nodes - edges + faces = 1 + connected parts.
    parts = int(plane.net.outer.sum())
    assert len(plane.net.nodes) - len(plane.net.edges) + len(plane.faces) == 1 + parts
    return plane, total


@pytest.mark.parametrize("seed", some_of(range(200), lambda seed: seed % 8 == 0))
def test_random_lines_and_circles(seed):
    items = random_items(seed)
    plane, total = arranged(items)
    sagitta = 1e-4
    chords = [shapely.LineString(facet(curve, sagitta)) for _, curve in items]
    cells = shapely.get_parts(shapely.polygonize([shapely.unary_union(chords)]))
    # A chord is off its arc by at most the sagitta.
    length = sum(curve.length for _, curve in items)
    assert total == pytest.approx(shapely.area(cells).sum(), abs=sagitta * length)
    compared = 0
    for cell in cells:
        # Chords open and close slivers; only cells that hold a circle of 0.02 are told apart.
        deep = shapely.maximum_inscribed_circle(cell, tolerance=0.005) if cell.area > 1e-3 else None
        if deep is not None and deep.length > 0.02:
            face = plane.faces[plane.face_at(deep.coords[0])]
            assert face.area == pytest.approx(cell.area, abs=2 * sagitta * cell.length + 1e-6)
            compared += 1
    assert compared > 0.5 * len([f for f in plane.faces if f.area > 0.1])


@pytest.mark.parametrize("grid", [5.0, 10.0])
@pytest.mark.parametrize("seed", some_of(range(40), lambda seed: seed % 8 == 0))
def test_on_a_grid_where_curves_touch_and_overlap(seed, grid):
    """No comparison with chords here: they miss the touches. Areas by counted points instead."""
    plane, total = arranged(random_items(1000 + seed, grid))
    rng = random.Random(seed)
    points = [(rng.uniform(-50, 150), rng.uniform(-50, 150)) for _ in range(2000)]
    inside = sum(plane.face_at(p) != OUTSIDE for p in points)
    # Four standard deviations of a count of 2,000.
    share = total / 200**2
    assert inside / 2000 == pytest.approx(share, abs=4 * (share * (1 - share) / 2000) ** 0.5 + 1e-3)


@pytest.mark.parametrize("seed", some_of(range(60), lambda seed: seed % 3 == 0))
def test_rounding_does_not_upset_touches_and_overlaps(seed):
    """Noise of a tenth of the tolerance on a grid's curves leaves the checks standing."""
    rng = random.Random(seed)
    noise = 1.4e-8

    def shaken(point):
        return (point[0] + rng.uniform(-noise, noise), point[1] + rng.uniform(-noise, noise))

    items = []
    for name, curve in random_items(2000 + seed, grid=5.0 if seed % 2 else 10.0):
        if isinstance(curve, Line):
            items.append((name, Line(shaken(curve.start), shaken(curve.end))))
        else:
            radius = curve.radius + rng.uniform(-noise, noise)
            items.append((name, Circle(shaken(curve.center), radius)))
    plane = Arrangement(items)
    exact = Arrangement(random_items(2000 + seed, grid=5.0 if seed % 2 else 10.0))
    assert len(plane.faces) == len(exact.faces)
    assert len(plane.net.edges) == len(exact.net.edges)
    assert sorted(f.area for f in plane.faces[1:]) == pytest.approx(
        sorted(f.area for f in exact.faces[1:]), abs=1e-4
    )
