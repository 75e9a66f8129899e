"""Freedoms, doubled bindings and the order of construction on demo parts with bindings changed."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import numpy as np
from hypothesis import HealthCheck, assume, given
from hypothesis import strategies as st

from sketcher.errors import EditError
from sketcher.lesson.order import construction_order
from sketcher.part.kinds import KINDS, bind, fitting, residual
from sketcher.part.store import load
from sketcher.part.value import Part
from sketcher.solve.circuit import full_matrix
from sketcher.solve.freedom import freedoms
from sketcher.solve.solver import solve
from sketcher.solve.system import System
from tests.demo_parts import SOUND as DEMO
from tests.seldom import examples

SLOWLY = examples(20, 40,
                  suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])


@cache
def solved(path: Path) -> Part:
    return solve(load(path)).part


@st.composite
def changed(draw: st.DrawFn) -> Part:
    """Demo part in its solved place, some bindings dropped, some that hold there added."""
    part = solved(draw(st.sampled_from(DEMO)))
    dropped = draw(st.sets(st.sampled_from(list(part.bindings)), max_size=6))
    bindings = {n: b for n, b in part.bindings.items() if n not in dropped}
    things = [*part.points, *part.curves]
    for number in range(draw(st.integers(0, 3))):
        ids = draw(st.lists(st.sampled_from(things), min_size=1, max_size=3, unique=True))
        kinds = fitting(part, ids)
        if not kinds:
            continue
        kind = draw(st.sampled_from(kinds))
        try:
            more = bind(part, kind, ids)
        except EditError:
            continue
        # An offset of lines that are not parallel, say, does not hold anywhere near.
        if abs(residual(part, more)) < 1e-8 and _all_rows_hold(part, more):
            bindings[f"more{number}"] = more
    return part.having(bindings=bindings)


def _all_rows_hold(part: Part, binding: object) -> bool:
    system = System(part.having(bindings={"only": binding}))
    rows = np.abs(system.residual(system.x0)).max(initial=0.0)
    moved = np.abs(system.raw(system.x0) - system.slots.values(part)).max(initial=0.0)
    return max(rows, moved) < 1e-8


@SLOWLY
@given(changed())
def test_freedoms_agree_with_numpy_and_doubled_can_go(part: Part) -> None:
    report = solve(part).report
    assume(report.converged)
    system = System(part)
    matrix, _ = full_matrix(system, system.x0)
    dense = matrix if isinstance(matrix, np.ndarray) else matrix.toarray()
    dense /= np.maximum(np.linalg.norm(dense, axis=1), 1e-300)[:, None]
    found = freedoms(system, system.x0)
    here = dense.shape[1] - np.linalg.matrix_rank(dense, tol=1e-8)
    # A witness may know of fewer freedoms than the position shows, never of more.
    assert found.count <= here
    assert not report.clashes
    assert bool(found.loose) == bool(found.count)
    for name, state in found.states.items():
        curve = part.curves[name]
        moving = {p.point for p in found.loose}
        assert (state == "loose") == bool(moving & {*curve.points, name})
    rest = {n: b for n, b in part.bindings.items() if n not in found.doubled}
    less = System(part.having(bindings=rest))
    again = freedoms(less, less.x0)
    assert (again.count, again.doubled) == (found.count, ())


@SLOWLY
@given(changed())
def test_order_finds_each_point_once(part: Part) -> None:
    assume(solve(part).report.converged)
    steps = construction_order(part)
    assert sorted(p for step in steps for p in step.points) == sorted(part.points)
    used = {name for step in steps for name in step.bindings}
    driving = {n for n, b in part.bindings.items() if b.drives}
    assert used <= driving
    # A point bound on a curve where that curve is tangent says no more than the tangency.
    assert {KINDS[part.bindings[n].kind].name for n in driving - used} <= {"on", "concentric"}
