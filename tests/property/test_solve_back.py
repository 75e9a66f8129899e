"""A random move of up to a tenth of the size is undone by the solve, or it says that it was not."""

from __future__ import annotations

from math import dist

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sketcher.part.part_size import part_size
from sketcher.part.store import load
from sketcher.part.value import Part
from sketcher.solve import solve
from tests.demo_parts import SOUND as DEMO
from tests.specimens import strip

SOLVED = {path.name.split(".")[0]: solve(load(path)).part for path in DEMO}


def moved(part: Part, share: float, seed: int) -> Part:
    """Every point that is not held moved by up to a share of the size in both directions."""
    rng = np.random.default_rng(seed)
    reach = share * part_size(part)
    held = {b.of[0] for b in part.bindings.values() if b.kind == "fixed"}
    return part.having(points={
        name: at if name in held else (float(at[0] + rng.uniform(-reach, reach)),
                                       float(at[1] + rng.uniform(-reach, reach)))
        for name, at in part.points.items()})


def comes_back_or_says_so(part: Part, sketch: Part) -> None:
    solution = solve(sketch)
    if not solution.report.converged:
        assert solution.part.points == sketch.points
        assert solution.report.state == "clashing"
        return
    if solution.report.turned:
        return
    off = max(dist(solution.part.points[name], at) for name, at in part.points.items())
    assert off <= 1e-8 * part_size(part)
    assert solution.report.state == "bound"


@pytest.mark.parametrize("name", SOLVED)
@given(share=st.floats(0.0, 0.1), seed=st.integers(0, 2**32 - 1))
@settings(max_examples=40, derandomize=True)
def test_demo_parts_come_back(name: str, share: float, seed: int) -> None:
    comes_back_or_says_so(SOLVED[name], moved(SOLVED[name], share, seed))


@given(count=st.integers(1, 12), rough=st.floats(0.0, 1.0), seed=st.integers(0, 2**32 - 1))
@settings(max_examples=60, derandomize=True)
def test_waves_come_back(count: int, rough: float, seed: int) -> None:
    sketch, exact = strip(2 * count + 1, rough, seed)
    solution = solve(sketch)
    assert solution.report.converged
    assert max(dist(solution.part.points[name], at) for name, at in exact.items()) < 1e-8


@given(seed=st.integers(0, 2**32 - 1))
@settings(max_examples=30, derandomize=True)
def test_solving_twice_changes_nothing(seed: int) -> None:
    sketch, _ = strip(15, 0.6, seed)
    once = solve(sketch).part
    twice = solve(once).part
    assert max(dist(twice.points[n], at) for n, at in once.points.items()) < 1e-12
    assert twice.bindings == once.bindings
