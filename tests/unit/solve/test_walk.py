"""Continuation: every dimension of every demo part, changed by up to three, there and back."""

from __future__ import annotations

from dataclasses import replace
from math import pi, tau
from pathlib import Path

import numpy as np
import pytest

from sketcher.geometry.curves import Arc
from sketcher.part.kinds import bind, settle_sides, wanted
from sketcher.part.store import load
from sketcher.part.value import Part
from sketcher.part.whole import half
from sketcher.solve import solve
from sketcher.solve.search import search
from sketcher.solve.system import System
from sketcher.solve.walk import walk
from tests.demo_parts import SOUND as DEMO
from tests.seldom import some_of
from tests.specimens import frame, said

FACTORS = (1 / 3, 0.6, 1.7, 3.0)


def with_value(part: Part, name: str, value: str) -> Part:
    return part.having(bindings={
        **part.bindings, name: replace(part.bindings[name], value=value)})


def sweeps(part: Part) -> dict[str, float]:
    return {n: abs(c.sweep) for n, c in half(part).items() if isinstance(c, Arc)}


@pytest.mark.parametrize("path", some_of(
    DEMO, lambda path: path.name[:5] in ("gate-", "roof-")), ids=lambda p: p.name.split(".")[0])
def test_values_changed_by_three_keep_the_branch_and_come_back(path: Path) -> None:
    part = solve(load(path)).part
    size = System(part).size
    reached = 0
    for name, binding in part.bindings.items():
        if binding.value is None or not binding.drives:
            continue
        for factor in FACTORS:
            value = repr(factor * (wanted(part, binding) or 0.0))
            system = System(with_value(part, name, value))
            found = search(system)
            if not found.converged:
                continue  # no such part: an arc that no longer fits, a line that vanishes
            reached += 1
            there = system.to_part(found.x)
            fresh = settle_sides(there.having(bindings={
                n: replace(b, side=None) for n, b in there.bindings.items()}))
            turned = system.unmet(found.x)  # the values leave no choice, and it is told
            for other, b in there.bindings.items():
                right_angle = b.kind == "angle" and wanted(there, b) == pytest.approx(90.0)
                if not right_angle and other not in turned:
                    assert fresh.bindings[other].side == b.side, f"{name} x {factor}: {other}"
            back = System(with_value(there, name, binding.value))
            home = search(back)
            assert home.converged, f"{name} x {factor}"
            off = np.abs(back.raw(home.x) - system.slots.values(part)).max()
            assert off <= 1e-8 * size, f"{name} x {factor} came back {off} off"
    assert reached > len(part.bindings)


@pytest.mark.parametrize("path", DEMO, ids=lambda p: p.name.split(".")[0])
def test_a_continuous_change_never_wraps_an_arc(path: Path) -> None:
    """In small steps no sweep may jump; a jump of most of a turn is an arc gone the other way."""
    part = solve(load(path)).part
    name, binding = next(
        (n, b) for n, b in part.bindings.items() if b.kind in {"radius", "offset"} and b.drives)
    before = sweeps(part)
    for factor in np.linspace(1.0, 1.25, 11).tolist():
        system = System(with_value(part, name, repr(factor * (wanted(part, binding) or 0.0))))
        found = walk(system, system.x0)
        if not found.converged:
            break
        now = sweeps(system.to_part(found.x))
        for arc, sweep in now.items():
            assert abs(sweep - before[arc]) < pi / 2 < tau
        before = now
    assert factor > 1.0


def test_a_walk_ends_where_the_branch_does() -> None:
    """A triangle of sides 3, 4 and at most 7: the third cannot be led to 8."""
    part = frame({"a": (0.0, 0.0), "b": (3.0, 0.0), "c": (3.0, 4.0)},
                 [("a", "b"), ("b", "c"), ("c", "a")], said("distance", "e1", value="3"),
                 said("distance", "e2", value="4"), said("distance", "e3", value="8"))
    system = System(part)
    found = walk(system, system.x0)
    assert not found.converged
    at = system.to_part(found.x)
    assert 6.5 < np.hypot(*np.subtract(at.points["c"], at.points["a"])) <= 7.0
    # Led from 5 to 9 it comes to the last of 256 places before 7, which would be the 128th.
    system = System(with_value(part, "b3", "9"))
    far = system.to_part(walk(system, system.x0).x).points
    assert np.hypot(*np.subtract(far["c"], far["a"])) == pytest.approx(5.0 + 4.0 * 127 / 256)
    # The whole way is the first that is tried.
    counts = [walk(system, system.x0, *first).iterations for first in ((), (1.0,), (2.0,))]
    assert counts[0] == counts[1] < counts[2]
    assert found.worst == pytest.approx(1.0, abs=0.5)


@pytest.mark.parametrize("third", ["1.5", "3", "6.9", "7"])
def test_a_triangle_keeps_its_orientation(third: str) -> None:
    part = frame({"a": (0.0, 0.0), "b": (3.0, 0.0), "c": (3.0, 4.0)},
                 [("a", "b"), ("b", "c"), ("c", "a")], said("fixed", "a"), said("level", "e1"),
                 said("distance", "e1", value="3"), said("distance", "e2", value="4"),
                 said("distance", "e3", value=third))
    system = System(part)
    found = search(system)
    assert found.converged
    at = system.to_part(found.x).points
    # third side 7 is the stretched triangle itself, found to the root of rounding
    assert at["c"][1] > -1e-6
    assert at["b"][0] == pytest.approx(3.0)
    x = (9.0 + float(third) ** 2 - 16.0) / 6.0
    assert at["c"][0] == pytest.approx(x, abs=1e-6)


def test_the_sector_of_an_angle_is_kept_through_level() -> None:
    part = frame({"a": (0.0, 0.0), "b": (5.0, 1.0)}, [("a", "b")], said("fixed", "a"),
                 said("distance", "e1", value="5"))
    part = part.having(bindings={**part.bindings, "b3": bind(part, "angle", ["e1"], "11")})
    part = solve(part).part
    for value in ("0", "170", "80", "359", "20"):
        solution = solve(with_value(part, "b3", value))
        assert solution.report.converged
        part = solution.part
        way = np.degrees(np.arctan2(part.points["b"][1], part.points["b"][0]))
        assert (way - float(value) + 180.0) % 360.0 - 180.0 == pytest.approx(0.0, abs=1e-9)
