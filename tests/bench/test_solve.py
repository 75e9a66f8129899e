"""Solve at several sizes beside scipy's trf with the same residual and sparse Jacobian.

Run apart: ``pytest tests/bench/test_solve.py --benchmark-only``, and without that option for the
checks of the ratios and of the growth, which compare times measured in one run.
"""

from __future__ import annotations

import statistics
from collections.abc import Callable
from math import log
from time import perf_counter

import numpy as np
import pytest
from scipy.optimize import least_squares
from scipy.sparse import eye_array
from scipy.sparse.linalg import splu

from sketcher.part.value import Part
from sketcher.solve import Drag
from sketcher.solve.linear import RIDGE
from sketcher.solve.normal import Normal
from sketcher.solve.search import search
from sketcher.solve.system import System
from tests.specimens import strip

FACTORISATIONS = 4.4
"""Runs of the four factorisations of a solve that the whole of it may take; the aim is 3."""
SIZES = [20, 100, 500, 2000]


def ours(part: Part) -> float:
    """Solve from the part to the part; returns the largest row."""
    system = System(part)
    found = search(system)
    system.to_part(found.x)
    return found.worst


def theirs(part: Part) -> float:
    """Solve with trust-region reflective on the same rows; the system is made before."""
    system = System(part)
    found = least_squares(system.residual, system.x0, system.jacobian, method="trf",
                          xtol=1e-12, ftol=1e-12, gtol=1e-12)
    return float(np.abs(found.fun).max())


def seconds(task: Callable[[], object], repeats: int) -> float:
    """Shortest of some runs."""
    best = float("inf")
    for _ in range(repeats):
        start = perf_counter()
        task()
        best = min(best, perf_counter() - start)
    return best


@pytest.mark.parametrize("count", [*SIZES, 10000])
def test_solve(benchmark: Callable, count: int) -> None:
    part, _ = strip(count + 1, rough=0.3)
    worst = benchmark.pedantic(ours, (part,), rounds=7, warmup_rounds=1)
    assert worst < 1e-9


@pytest.mark.parametrize("count", [20, 100, 500])
def test_least_squares(benchmark: Callable, count: int) -> None:
    part, _ = strip(count + 1, rough=0.3)
    worst = benchmark.pedantic(theirs, (part,), rounds=2, warmup_rounds=0)
    assert worst < 1e-4


def test_drag_at_300_curves(benchmark: Callable) -> None:
    part, _ = strip(301)
    loose = {n: b for n, b in part.bindings.items() if n not in {"l100", "d104"}}
    part = part.having(bindings=loose)
    drag = Drag(part, ["p150"])
    x, y = part.points["p150"]
    way = iter(range(10000))

    def event() -> bool:
        at = next(way)
        return drag.to({"p150": (x + 5.0 * np.sin(0.1 * at), y + 0.3)}).report.converged

    assert benchmark.pedantic(event, rounds=40, warmup_rounds=2)


def test_solve_beside_its_factorisations(monkeypatch: pytest.MonkeyPatch) -> None:
    part, _ = strip(2001, rough=0.3)
    ours(part)
    factored, product = [], Normal.product

    def kept(self: Normal, *given: object) -> object:
        made = product(self, *given)
        matrix = made.copy()
        matrix.eliminate_zeros()  # as scipy multiplies
        factored.append((matrix + RIDGE * made.diagonal().max() * eye_array(*made.shape)).tocsc())
        return made

    with monkeypatch.context() as patch:
        patch.setattr(Normal, "product", kept)
        ours(part)
    assert len(factored) == 4

    def factorise() -> None:
        # in the order of the rows and with scipy's usual panels: the yardstick stays the same when
        # the solver's own get quicker
        for matrix in factored:
            splu(matrix, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0,
                 options={"SymmetricMode": True})

    pairs = [(seconds(lambda: ours(part), 1), seconds(factorise, 1)) for _ in range(25)]
    mine, four = (statistics.median(times) for times in zip(*pairs, strict=True))
    print(f"2000 curves {1e3 * mine:.1f} ms, four factorisations {1e3 * four:.1f} ms: "
          f"{mine / four:.1f} x")
    assert mine <= FACTORISATIONS * four


@pytest.mark.parametrize(("count", "times"), [(100, 13.0), (2000, 75.0)])
def test_faster_than_least_squares(count: int, times: float) -> None:
    part, _ = strip(count + 1, rough=0.3)
    ours(part)
    # in turns, for the machine's speed varies
    pairs = [(seconds(lambda: ours(part), 5), seconds(lambda: theirs(part), 1))
             for _ in range(9 if count <= 100 else 1)]
    mine, other = (statistics.median(each) for each in zip(*pairs, strict=True))
    print(f"{count} curves: {1e3 * mine:.1f} ms, trf {1e3 * other:.0f} ms: {other / mine:.0f} x")
    assert other >= times * mine


def test_growth_from_100_to_10000_curves() -> None:
    small, _ = strip(101, rough=0.3)
    large, _ = strip(10001, rough=0.3)
    ours(small)
    short = seconds(lambda: ours(small), 9)
    long = seconds(lambda: ours(large), 5)
    exponent = log(long / short) / log(100.0)
    print(f"100 curves {1e3 * short:.1f} ms, 10,000 {1e3 * long:.0f} ms: exponent {exponent:.2f}")
    assert exponent <= 1.2
