"""Cost of arrangements beside shapely's unary_union and polygonize on chords of the same curves."""

from __future__ import annotations

import random
from math import ceil, pi
from time import perf_counter

import numpy as np
import pytest
import shapely

from sketcher.geometry.arrangement import Arrangement
from sketcher.geometry.curves import Circle, Line
from sketcher.geometry.evaluate import point_at

SIZE = 100.0
CHORD = 1e-3 * SIZE


def curves(count, seed=1):
    """Lines and circles, most of them local: about ten crossings for each."""
    rng = random.Random(seed)
    items = []
    for k in range(count):
        x, y = rng.uniform(0, SIZE), rng.uniform(0, SIZE)
        reach = SIZE * 3.0 / count**0.5
        if k % 2:
            line = Line((x, y), (x + rng.uniform(-reach, reach), y + rng.uniform(-reach, reach)))
            items.append((f"l{k}", line))
        else:
            items.append((f"c{k}", Circle((x, y), rng.uniform(0.1, 0.5) * reach)))
    return items


def chords(curve):
    if isinstance(curve, Line):
        return shapely.LineString([curve.start, curve.end])
    count = max(8, ceil(2 * pi * curve.radius / CHORD))
    return shapely.LineString([point_at(curve, k / count) for k in range(count)] + [
        point_at(curve, 0.0)
    ])


def with_shapely(lines):
    return shapely.polygonize([shapely.unary_union(lines)])


@pytest.mark.parametrize("count", [100, 300, 1000])
def test_build(benchmark, count):
    items = curves(count)
    plane = benchmark(Arrangement, items)
    assert len(plane.faces) > count / 2


@pytest.mark.parametrize("count", [100, 300, 1000])
def test_shapely_on_chords(benchmark, count):
    lines = [chords(curve) for _, curve in curves(count)]
    assert len(shapely.get_parts(benchmark(with_shapely, lines))) > count / 2


@pytest.mark.parametrize("dense", [False, True])
def test_build_takes_at_most_three_times_shapely(dense):
    """In one run, the best of three of each, 1,000 curves."""
    items = curves(1000)
    if dense:  # every eighth curve reaches across the plate
        rng = random.Random(2)
        for k in range(1, len(items), 8):
            across = Line((0.0, rng.uniform(0, SIZE)), (SIZE, rng.uniform(0, SIZE)))
            items[k] = (items[k][0], across)
    lines = [chords(curve) for _, curve in items]

    def best(work, given):
        times = []
        for _ in range(3):
            start = perf_counter()
            work(given)
            times.append(perf_counter() - start)
        return min(times)

    ours, theirs = best(Arrangement, items), best(with_shapely, lines)
    print(f"\n1,000 curves: {1e3 * ours:.0f} ms, shapely on chords {1e3 * theirs:.0f} ms")
    assert ours <= 3.0 * theirs


def test_face_under_the_pointer_at_300_curves(benchmark):
    plane = Arrangement(curves(300))
    plane.face_at((0.0, 0.0))
    points = np.random.default_rng(3).uniform(0, SIZE, (100, 2)).tolist()

    def ask():
        for x, y in points:
            plane.face_at((x, y))

    benchmark(ask)
    assert benchmark.stats["mean"] / len(points) < 0.016
