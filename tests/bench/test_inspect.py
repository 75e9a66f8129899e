"""Inspection of a closed part at several sizes.

Run apart: ``pytest tests/bench/test_inspect.py --benchmark-only``, and without that option for the
growth, which compares times measured in one run.
"""

from __future__ import annotations

import os
import resource
import statistics
import subprocess
import sys
from collections.abc import Callable
from math import cos, log, pi, sin
from pathlib import Path
from time import perf_counter

import pytest

from sketcher.inspect.inspection import Inspection
from sketcher.part.value import Binding, Part
from tests.demo_parts import SOUND
from tests.plates import codes, looked_at, plate

ROOT = Path(__file__).resolve().parents[2]
MOST = 2.0
"""Processes that only import numpy in the time of one that inspects a part."""


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


def children_time() -> float:
    """Seconds of the processor in ended children: on a busy machine the clock counts others too."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def test_process_beside_one_that_imports_numpy(tmp_path: Path) -> None:
    env = {**os.environ, "PYTHONPYCACHEPREFIX": str(tmp_path)}
    env.pop("PYTHONDONTWRITEBYTECODE", None)
    env.pop("OPENBLAS_NUM_THREADS", None)  # set here by importing the program, not by a bare one
    files = SOUND
    ways = {"numpy": ["-c", "import numpy"],
            **{f.name: ["-m", "sketcher", "inspect", str(f)] for f in files}}
    times: dict[str, list[float]] = {name: [] for name in ways}
    for run in range(12):
        for name, given in ways.items():
            before = children_time()
            done = subprocess.run([sys.executable, *given], stdout=subprocess.DEVNULL,
                                  stderr=subprocess.PIPE, env=env, cwd=ROOT)
            if run:  # the first fills the cache
                times[name].append(children_time() - before)
            assert done.returncode in (0, 1), done.stderr  # sound, or with findings
    bare = statistics.median(times.pop("numpy"))
    ratios = {name: statistics.median(taken) / bare for name, taken in times.items()}
    print(f"\nnumpy {1e3 * bare:.0f} ms; " + ", ".join(f"{n} {r:.2f} x" for n, r in ratios.items()))
    assert len(ratios) >= 5
    assert max(ratios.values()) <= MOST
