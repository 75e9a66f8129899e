"""Rough sketches: random moves of every demo part come back to the branch that is meant."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from sketcher.part.store import load
from sketcher.part.value import Part
from sketcher.solve import solve
from sketcher.solve.search import search
from sketcher.solve.system import System

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
