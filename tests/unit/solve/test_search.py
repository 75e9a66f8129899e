"""Rough sketches: random moves of every demo part come back to the branch that is meant."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from sketcher.part.kinds import settle_sides
from sketcher.part.store import load
from sketcher.part.value import CircleCurve, Part
from sketcher.solve import solve
from sketcher.solve.search import search
from sketcher.solve.system import System
from tests.specimens import frame, said

DEMO = sorted((Path(__file__).resolve().parents[3] / "demo_parts").glob("*.profile.json"))
MOVES = 200


def moved(part: Part, reach: float, rng: np.random.Generator) -> Part:
    """Every point that is not held moved by up to `reach` in both directions."""
    held = {b.of[0] for b in part.bindings.values() if b.kind == "fixed"}
    return part.having(points={
        name: at if name in held else (float(at[0] + rng.uniform(-reach, reach)),
                                       float(at[1] + rng.uniform(-reach, reach)))
        for name, at in part.points.items()})


@pytest.mark.parametrize("path", DEMO, ids=lambda p: p.name.split(".")[0])
def test_moves_of_five_percent_come_back(path: Path) -> None:
    part = solve(load(path)).part
    system = System(part)
    solved = system.raw(system.x0)
    rng = np.random.default_rng(2026)
    for number in range(MOVES):
        again = System(moved(part, 0.05 * system.size, rng))
        found = search(again)
        assert found.converged, f"move {number}"
        assert again.kept(found.x) == (True, 0), f"move {number}"
        off = np.abs(again.raw(found.x) - solved).max()
        assert off <= 1e-8 * system.size, f"move {number} ended {off} off"


@pytest.mark.parametrize("path", DEMO, ids=lambda p: p.name.split(".")[0])
def test_the_rough_sketch_as_shipped_really_is_rough(path: Path) -> None:
    part = load(path)
    system = System(part)
    off = np.abs(system.residual(system.x0)).max()
    assert off > 0.005 * system.size
    assert solve(part).report.converged


@pytest.mark.parametrize("path", DEMO, ids=lambda p: p.name.split(".")[0])
@pytest.mark.parametrize("factor", [0.01, 1 / 25.4, 0.4, 3.0, 100.0])
def test_a_sketch_of_another_scale_becomes_the_same_part(path: Path, factor: float) -> None:
    part = settle_sides(load(path))
    expected = solve(part).part
    size = System(expected).size
    scaled = part.having(
        points={name: (factor * x, factor * y) for name, (x, y) in part.points.items()},
        curves={name: replace(c, radius=factor * c.radius) if isinstance(c, CircleCurve) else c
                for name, c in part.curves.items()})
    solution = solve(scaled)
    assert solution.report.converged
    for name, at in expected.points.items():
        assert solution.part.points[name] == pytest.approx(at, abs=1e-9 * size)


def test_one_dimension_alone_scales_nothing_else() -> None:
    part = frame({"a": (0.0, 0.0), "b": (10.0, 0.0), "c": (14.0, 6.0)}, [("a", "b"), ("b", "c")],
                 said("fixed", "a"), said("distance", "e1", value="30"))
    solution = solve(part)
    assert solution.part.points["b"] == pytest.approx((30.0, 0.0))
    assert solution.part.points["c"] == (14.0, 6.0)
