"""Freedoms and clashes at 300 curves beside the solve of the same part, in one run.

Run apart: ``pytest tests/bench/test_structure.py``; the check of the ratio compares shortest times.
"""

from __future__ import annotations

from collections.abc import Callable
from math import dist
from time import process_time

import pytest

from sketcher.lesson.order import construction_order
from sketcher.part.value import Binding, Part
from sketcher.solve.clash import find_clashes
from sketcher.solve.freedom import freedoms
from sketcher.solve.search import search
from sketcher.solve.system import System
from tests.specimens import strip

COUNT = 300


def bound() -> Part:
    return strip(COUNT + 1, rough=0.3)[0]


def without(part: Part, *names: str) -> Part:
    return part.having(bindings={n: b for n, b in part.bindings.items() if n not in names})


def contradicted(part: Part) -> Part:
    """One length said again with another value."""
    extra = Binding("distance", ("e150",), "13")
    return part.having(bindings={**part.bindings, "again": extra})


def said_twice(part: Part) -> Part:
    """One length again, and one more distance between two bound points, as they are."""
    far = repr(dist(part.points["p3"], part.points["p90"]))
    extra = {"again": Binding("distance", ("e150",), "10"),
             "far": Binding("distance", ("p3", "p90"), far)}
    return part.having(bindings={**part.bindings, **extra})


def solved(part: Part) -> None:
    system = System(part)
    found = search(system)
    assert found.converged
    system.to_part(found.x)


def seconds(task: Callable[[], object], repeats: int = 7) -> float:
    best = float("inf")
    for _ in range(repeats):
        start = process_time()
        task()
        best = min(best, process_time() - start)
    return best


def test_freedoms_and_clashes_within_five_solves() -> None:
    part = bound()
    system = System(part)
    x = search(system).x
    loose = System(without(part, "f", "l0", "d4", "r9"))
    slack = search(loose).x
    twice = System(said_twice(system.to_part(x)))
    bad = contradicted(system.to_part(x))
    assert freedoms(system, x).count == 0
    assert freedoms(loose, slack).count == 5
    assert freedoms(twice, twice.x0).doubled == ("again", "far")
    assert find_clashes(bad) == (("l150", "again"),)
    solve = seconds(lambda: solved(part))
    free = max(seconds(lambda: freedoms(system, x)), seconds(lambda: freedoms(loose, slack)),
               seconds(lambda: freedoms(twice, twice.x0)))
    clash = seconds(lambda: find_clashes(bad))
    print(f"{COUNT} curves: solve {1e3 * solve:.1f} ms, freedoms {1e3 * free:.1f} ms, "
          f"clashes {1e3 * clash:.1f} ms: {(free + clash) / solve:.1f} x")
    assert free + clash <= 5.0 * solve


def overspanned(part: Part) -> Part:
    """A distance across nearly the whole chain that is 3 mm off: 721 bindings clash."""
    apart = dist(part.points["p3"], part.points["p290"])
    far = Binding("distance", ("p3", "p290"), repr(apart + 3.0))
    return part.having(bindings={**part.bindings, "far": far})


def test_order_and_the_longest_clash_within_twenty_solves() -> None:
    part = bound()
    system = System(part)
    sound = system.to_part(search(system).x)
    bad = overspanned(sound)
    (members,) = find_clashes(bad)
    assert len(members) > 700
    solve = seconds(lambda: solved(part))
    order = seconds(lambda: construction_order(part), 3)
    clash = seconds(lambda: find_clashes(bad), 3)
    print(f"{COUNT} curves: solve {1e3 * solve:.1f} ms, order {order / solve:.1f} x, "
          f"longest clash {clash / solve:.1f} x")
    assert order <= 20.0 * solve
    assert clash <= 20.0 * solve


@pytest.mark.parametrize("count", [20, 100, COUNT, 2000])
def test_freedoms(benchmark: Callable, count: int) -> None:
    part, _ = strip(count + 1)
    system = System(without(part, "f"))
    found = benchmark(freedoms, system, system.x0)
    assert found.count == 2  # its direction is bound by its level lines


@pytest.mark.parametrize("count", [20, COUNT])
def test_clashes(benchmark: Callable, count: int) -> None:
    part, _ = strip(count + 1)
    again = {**part.bindings, "again": Binding("distance", ("e0",), "13")}
    assert benchmark(find_clashes, part.having(bindings=again)) == (("l0", "again"),)


@pytest.mark.parametrize("count", [20, 100, COUNT])
def test_order(benchmark: Callable, count: int) -> None:
    part, _ = strip(count + 1)
    steps = benchmark.pedantic(construction_order, (part,), rounds=3)
    assert not any(step.together for step in steps)
