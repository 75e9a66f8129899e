"""Inspection of a closed part at several sizes.

Run apart: ``pytest tests/bench/test_inspect.py --benchmark-only``, and without that option for the
growth, which compares times measured in one run.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, log, pi, sin
from time import perf_counter

import pytest

from sketcher.inspect.inspection import Inspection
from sketcher.part.value import Binding, Part
from tests.plates import codes, looked_at, plate


def wheel(count: int) -> Part:
    """Closed rim of lines and arcs with a hole at each pair: `count` curves, as many dimensions."""
    sectors = count // 3
    radius = 100.0 * max(1.0, sectors / 50.0)
    points = {"o": (0.0, 0.0)}
    curves: dict[str, tuple[object, ...]] = {}
    bindings = []
    for k in range(sectors):
        for name, turn, r in (("p", k, 1.0), ("q", k + 0.5, 1.0), ("c", k + 0.5, 0.8)):
            angle = 2.0 * pi * turn / sectors
            points[f"{name}{k}"] = (r * radius * cos(angle), r * radius * sin(angle))
        curves[f"e{k}"] = (f"p{k}", f"q{k}")
        curves[f"a{k}"] = (f"q{k}", f"p{(k + 1) % sectors}", "o", "ccw")
        curves[f"h{k}"] = (f"c{k}", 2.0)
        chord = 2.0 * radius * sin(0.5 * pi / sectors)
        bindings += [Binding("distance", (f"e{k}",), repr(chord)),
                     Binding("radius", (f"a{k}",), repr(radius)),
                     Binding("diameter", (f"h{k}",), "4")]
    return plate(points, curves, *bindings)


@pytest.mark.parametrize("count", [30, 300, 2000])
def test_inspection(benchmark: Callable, count: int) -> None:
    part = wheel(count)
    inspection: Inspection = benchmark.pedantic(looked_at, (part,), rounds=7, warmup_rounds=1)
    assert inspection.profile.closed
    # Of many short edges each nearly goes on as the next; nothing else is wrong.
    assert set(codes(inspection)) <= {"near-tangent"}


@pytest.mark.parametrize("count", [30, 300])
def test_cutting_advice(benchmark: Callable, count: int) -> None:
    part = wheel(count)
    advice = benchmark.pedantic(lambda: looked_at(part).cutting, rounds=7, warmup_rounds=1)
    # Holes of 4 mm in 3 mm plate are below 1.5 thicknesses.
    assert sum(row.rule == "hole size" for row in advice) == count // 3


def test_growth_from_300_to_6000_curves() -> None:
    times = {}
    for count in (300, 6000):
        part = wheel(count)
        looked_at(part)
        best = float("inf")
        for _ in range(3):
            start = perf_counter()
            looked_at(part)
            best = min(best, perf_counter() - start)
        times[count] = best
    assert log(times[6000] / times[300]) / log(20.0) <= 1.4
