"""Smallest dependent sets of bindings."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from sketcher.part.kinds import bind, measure
from sketcher.part.store import load
from sketcher.part.value import Binding, Part
from sketcher.solve.circuit import circuits, full_matrix, fundamental
from sketcher.solve.clash import find_clashes
from sketcher.solve.freedom import freedoms
from sketcher.solve.rank import judge
from sketcher.solve.solver import solve
from sketcher.solve.system import System
from tests.demo_parts import SOUND
from tests.specimens import bar, frame, said

DEMO = Path(__file__).resolve().parents[3] / "demo_parts"
ROW = {"p1": (0.0, 0.0), "p2": (4.0, 1.0), "p3": (9.0, 0.0)}


def found(part: Part) -> list[tuple[str, ...]]:
    system = System(part)
    return circuits(system, system.x0)


def test_substituted_bindings_are_members() -> None:
    part = frame(ROW, (), said("level", "p1", "p2"), said("level", "p2", "p3"),
                 said("plumb", "p1", "p2"), said("level", "p1", "p3"))
    assert found(part) == [("b1", "b2", "b4")]


def test_each_row_too_many_has_its_own_circuit() -> None:
    part = frame(ROW, (), bar(ROW, "p1", "p2"), said("run", "p1", "p3", value="9"),
                 bar(ROW, "p1", "p2"), said("run", "p3", "p1", value="9"))
    assert found(part) == [("b1", "b3"), ("b2", "b4")]


def test_independent_bindings_have_none() -> None:
    assert found(frame(ROW, (), bar(ROW, "p1", "p2"), bar(ROW, "p2", "p3"))) == []
    assert found(Part()) == []


def test_fundamental_circuits_of_known_dependencies() -> None:
    """Rows e1, e2, e1 + e2, 2 e1: the third needs both, the fourth the first."""
    rows = np.array([[1.0, 0.0], [0.0, 1.0], [1.0, 1.0], [2.0, 0.0]])
    assert sorted(fundamental(judge(rows).dependencies)) == [[0, 1, 2], [0, 3]]


@pytest.mark.parametrize("path", SOUND, ids=lambda p: p.name)
def test_full_rows_leave_the_same_freedoms(path: Path) -> None:
    part = solve(load(path)).part
    for without in ("", "b1", "b7"):
        rest = {n: b for n, b in part.bindings.items() if n != without}
        system = System(part.having(bindings=rest))
        matrix, owners = full_matrix(system, system.x0)
        assert matrix.shape == (len(owners), len(system.raw(system.x0)))
        free = matrix.shape[1] - judge(matrix).rank
        assert free == freedoms(system, system.x0).count


CASES = [
    ("gate-strap", "rise", "k1", "c1", {"b3", "b19", "b22"}),
    ("gate-strap", "run", "p1", "q1", {"b4", "b5", "b11"}),
    ("pump-flange", "run", "c1", "s1", {"b6", "b7"}),
    ("pump-flange", "distance", "k1", "c1", {"b2", "b3", "b4", "b5", "b13", "b14"}),
    ("roof-gusset", "distance", "p2", "q1", {"b8"}),
    ("shelf-bracket", "run", "p8", "p1", {"b11", "b18"}),
    ("shelf-bracket", "rise", "p1", "k2", {"b4", "b9", "b25"}),
    # m1 lies on a circle about c1, of which this run would be beyond the end: no angle is needed.
    ("shift-arm", "run", "m1", "c3", {"b4", "b32"}),
]


@pytest.mark.parametrize(("name", "kind", "one", "other", "rest"), CASES)
def test_a_dimension_too_many(name: str, kind: str, one: str, other: str, rest: set[str]) -> None:
    """With its measured value it is said twice; with another it clashes with what implies it."""
    part = solve(load(DEMO / f"{name}.profile.json")).part
    extra = bind(part, kind, [one, other])
    amount = measure(part, extra)

    def having(value: float) -> Part:
        more = Binding(kind, extra.of, repr(value), extra.side)
        return part.having(bindings={**part.bindings, "extra": more})

    report = solve(having(amount)).report
    assert (report.doubled, report.freedoms, report.clashes) == (("extra",), 0, ())
    (members,) = find_clashes(having(1.07 * amount + 0.5))
    assert set(members) == rest | {"extra"}


def test_dust_beside_a_large_amount_belongs_to_no_circuit() -> None:
    assert fundamental(np.array([[1e4, 1e-5, 1.0]])) == [[0, 2]]
    assert fundamental(np.array([[1.0, 1e-5, 1.0]])) == [[0, 1, 2]]
    assert fundamental(np.array([[1e-4, 1e-9, 1.0]])) == [[0, 2]]
