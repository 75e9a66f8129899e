"""Which curves come near a place, beside the distance of every curve from every place."""

from __future__ import annotations

from math import cos, sin, tau
from random import Random

import numpy as np
import pytest

from sketcher.geometry.curve_table import CurveTable
from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.geometry.vicinity import PORTION, Vicinity


def drawn(random: Random, count: int) -> list[Curve]:
    def at() -> tuple[float, float]:
        return random.uniform(0.0, 100.0), random.uniform(0.0, 100.0)

    def arc() -> Arc:
        center, radius = at(), random.uniform(1.0, 60.0)
        ends = [(center[0] + radius * cos(a), center[1] + radius * sin(a))
                for a in (random.uniform(0.0, tau), random.uniform(0.0, tau))]
        return Arc(center, *ends, ccw=random.random() < 0.5)

    make = (lambda: Line(at(), at()), lambda: Line((50.0, 50.0), (50.0, 50.001)),
            lambda: Circle(at(), random.uniform(0.01, 60.0)), arc)
    return [random.choice(make)() for _ in range(count)]


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("reach", [1e-9, 0.5, 30.0])
def test_every_curve_within_reach_of_a_place_is_named_once(seed: int, reach: float) -> None:
    random = Random(seed)
    table = CurveTable(drawn(random, 60))
    rng = np.random.default_rng(seed)
    which = rng.integers(0, len(table), 2 * PORTION)
    on = table.points(which, rng.random(len(which)))
    places = np.concatenate((on, rng.uniform(-10.0, 110.0, (50, 2))))
    found = [(int(k), int(curve), float(distance))
             for portion in Vicinity(table).within(places, reach)
             for k, curve, distance in zip(*portion, strict=True)]
    apart = table.distances_to_all(places)
    wanted = [(int(k), int(curve)) for k, curve in np.argwhere(apart <= reach)]
    assert [pair[:2] for pair in found] == wanted
    assert {k for k, curve, _ in found} >= set(range(len(on)))
    assert [distance for *_, distance in found] == [apart[pair] for pair in wanted]


def test_a_ring_is_near_on_its_rim_alone() -> None:
    table = CurveTable([Circle((0.0, 0.0), 10.0), Arc((0.0, 0.0), (20.0, 0.0), (-20.0, 0.0))])
    places = np.array([(0.0, 0.0), (6.0, 8.0), (12.0, 16.0), (12.0, -16.0), (20.0, -0.4)])
    ((which, curve, distance),) = Vicinity(table).within(places, 0.5)
    assert list(zip(which.tolist(), curve.tolist(), strict=True)) == [(1, 0), (2, 1), (4, 1)]
    assert distance == pytest.approx([0.0, 0.0, 0.4], abs=1e-12)
