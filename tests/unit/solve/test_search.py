"""Rough sketches: random moves of every demo part come back to the branch that is meant."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from sketcher.part.kinds import settle_sides
from sketcher.part.store import load
from sketcher.part.value import CircleCurve, Part
from sketcher.solve import solve
from sketcher.solve.newton import NewtonOutcome, newton
from sketcher.solve.search import _attempts, search, straight
from sketcher.solve.system import System
from tests.demo_parts import SOUND as DEMO
from tests.seldom import some_of
from tests.specimens import frame, said

MOVES = 200


def moved(part: Part, reach: float, rng: np.random.Generator) -> Part:
    """Every point that is not held moved by up to `reach` in both directions."""
    held = {b.of[0] for b in part.bindings.values() if b.kind == "fixed"}
    return part.having(points={
        name: at if name in held else (float(at[0] + rng.uniform(-reach, reach)),
                                       float(at[1] + rng.uniform(-reach, reach)))
        for name, at in part.points.items()})


@pytest.mark.parametrize("path", some_of(
    DEMO, lambda path: path.name[:5] in ("gate-", "roof-")), ids=lambda p: p.name.split(".")[0])
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


def crossed(across: float) -> Part:
    """A point on a level line and 5 from a center above it, drawn nearer to one crossing."""
    return frame({"a": (-10.0, 0.0), "b": (10.0, 0.0), "m": (0.0, 3.0), "k": (across, 0.2)},
                 [("a", "b"), CircleCurve("m", 5.0)], said("fixed", "a"), said("fixed", "b"),
                 said("fixed", "m"), said("radius", "e2", value="5"), said("on", "k", "e1"),
                 said("on", "k", "e2"))


@pytest.mark.parametrize("across", [2.0, -2.0, 0.5, -0.5])
def test_the_nearer_crossing_is_found_and_all_steps_are_counted(across: float) -> None:
    system = System(crossed(across))
    found = straight(system, system.x0)
    assert found.converged
    # 3-4-5
    assert system.to_part(found.x).points["k"] == pytest.approx((4.0 * np.sign(across), 0.0))
    assert newton(system, system.x0).iterations <= found.iterations < 60
    assert search(system).iterations == found.iterations


def test_the_farther_crossing_is_corrected_and_its_steps_are_added() -> None:
    # Drawn a little left of the middle, but far outside: the first step leads to the right.
    counts = []
    for seed in range(40):
        rng = np.random.default_rng(seed)
        part = crossed(0.0)
        at = tuple(rng.uniform(-9.0, 9.0, 2).tolist())
        system = System(part.having(points={**part.points, "k": at}))
        direct, found = newton(system, system.x0), straight(system, system.x0)
        where = system.to_part(found.x).points["k"]
        assert where == pytest.approx((4.0 * np.sign(at[0]), 0.0))
        counts.append(found.iterations - direct.iterations)
    assert min(counts) >= 0


def test_a_search_without_a_solution_says_so() -> None:
    system = System(frame({"a": (0.0, 0.0), "b": (3.0, 0.0), "c": (1.0, 2.0)},
                          [("a", "b"), ("b", "c"), ("c", "a")], said("distance", "e1", value="3"),
                          said("distance", "e2", value="4"), said("distance", "e3", value="9")))
    found = search(system)
    assert found.converged is False
    assert found.worst == pytest.approx(2.0 / 3.0, rel=0.01)  # shared by the three sides


def taken(monkeypatch: pytest.MonkeyPatch, *moves: float) -> tuple[float, int]:
    """Which of several solutions, that move by these parts of the size, is taken of how many."""
    system = System(frame({"a": (0.0, 0.0), "b": (30.0, 40.0)}, [("a", "b")], said("fixed", "a"),
                          said("distance", "e1", value="49")))
    assert system.size == pytest.approx(50.0)

    def attempts(
        system: System, x: np.ndarray, rows: np.ndarray
    ) -> Iterator[tuple[NewtonOutcome, bool]]:
        for move in moves:
            yield NewtonOutcome(x + np.array([50.0 * move, 0.0]), 0.0, True, 1), False

    monkeypatch.setattr("sketcher.solve.search._attempts", attempts)
    found = search(system)
    return float(found.x[0] - system.x0[0]) / 50.0, found.iterations


@pytest.mark.parametrize(("first", "tried"), [(0.15, 1), (0.25, 2)])
def test_a_solution_within_a_fifth_of_the_size_is_what_was_meant(
    first: float, tried: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert taken(monkeypatch, first, 0.24) == (pytest.approx(first), tried)


@pytest.mark.parametrize(("second", "better"), [(0.45, False), (0.35, True)])
def test_a_later_solution_has_to_be_nearer_by_a_fifth(
    second: float, better: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert taken(monkeypatch, 0.5, second) == (pytest.approx(second if better else 0.5), 2)


@pytest.mark.parametrize(("apart", "square", "moved"), [(1, True, 8), (80, True, 2), (1, False, 2)])
def test_a_small_rough_sketch_is_moved_eight_times_and_any_other_twice(
    apart: int, square: bool, moved: int
) -> None:
    # Sides of 3, 4 and 9 are no triangle; points apart make the system a large one.
    points = {"a": (0.0, 0.0), "b": (3.0, 0.2), "c": (1.0, 2.0)}
    points |= {f"p{k}": (float(k), -5.0) for k in range(apart)}
    sides = [said("distance", f"e{k}", value=v) for k, v in enumerate(("3", "4", "9"), 1)]
    shape = [said("square", "e1", "e2")] if square else []
    system = System(frame(points, [("a", "b"), ("b", "c"), ("c", "a")], *sides, *shape))
    outcomes = list(_attempts(system, system.x0, system.residual(system.x0)))
    # Where only values are off they are walked before the direct way.
    assert [sure for _, sure in outcomes] == [True] * (not square) + [False] * (1 + moved)
    assert not any(found.converged for found, _ in outcomes)
    tried = [system.to_part(found.x).points for found, _ in outcomes[-moved:]]
    assert len({at["c"] for at in tried}) == moved
    # What no equation moves stays where it was drawn.
    assert {at[f"p{k}"] for at in tried for k in range(apart)} == {
        (float(k), -5.0) for k in range(apart)}
