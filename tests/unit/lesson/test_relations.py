"""The drawing board's conditions agree in rank and motions with the solver's own equations."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from sketcher.lesson.relations import Basis, determined, relations, unknowns
from sketcher.part.store import load
from sketcher.part.value import Part
from sketcher.solve.freedom import freedoms
from sketcher.solve.solver import solve
from sketcher.solve.system import System
from tests.demo_parts import SOUND as DEMO
from tests.specimens import bar, frame, said

RECTANGLE = {"p1": (0.0, 0.0), "p2": (4.0, 0.0), "p3": (4.0, 3.0), "p4": (0.0, 3.0)}
SIDES = [("p1", "p2"), ("p2", "p3"), ("p3", "p4"), ("p4", "p1")]


def matrix(part: Part) -> np.ndarray:
    slots = {slot: k for k, slot in enumerate(unknowns(part))}
    rows = relations(part)
    out = np.zeros((len(rows), len(slots)))
    for k, row in enumerate(rows):
        for slot, amount in row.terms.items():
            out[k, slots[slot]] = amount
    return out


@pytest.mark.parametrize("path", DEMO, ids=lambda p: p.name.split(".")[0])
def test_bound_parts_are_bound_on_the_board(path: Path) -> None:
    part = solve(load(path)).part
    a = matrix(part)
    assert np.linalg.matrix_rank(a, tol=1e-8) == a.shape[1]
    chosen = determined(relations(part), unknowns(part))
    assert len(chosen) == a.shape[1]
    assert all(r.owner for r in chosen)


@pytest.mark.parametrize("bindings", [
    (), (said("level", "e1"),), (said("fixed", "p1"), said("square", "e1", "e2")),
    (said("parallel", "e1", "e3"), bar(RECTANGLE, "p1", "p3"), said("distance", "e2", value="3")),
    (said("offset", "e1", "e3", value="3"), said("middle", "p1", "e2")),
    (said("equal", "e1", "e3"), said("in line", "e1", "e3"), said("on", "p3", "e1")),
])
def test_loose_parts_have_as_many_freedoms(bindings: tuple) -> None:
    part = solve(frame(RECTANGLE, SIDES, *bindings)).part
    system = System(part)
    a = matrix(system.part)
    free = a.shape[1] - np.linalg.matrix_rank(a, tol=1e-8)
    assert free == freedoms(system, system.x0).count
    chosen = determined(relations(system.part), unknowns(part))
    assert len(chosen) == a.shape[1]
    assert sum(r.role == "choice" for r in chosen) == free


def test_basis_takes_independent_rows_only() -> None:
    rng = np.random.default_rng(1)
    rows = rng.normal(size=(6, 8))
    rows[3] = rows[0] - 2.0 * rows[2]
    basis = Basis()
    assert [basis.take(dict(enumerate(row.tolist()))) for row in rows] == [
        True, True, True, False, True, True]


@pytest.mark.parametrize("seed", range(8))
def test_basis_agrees_with_the_rank_of_numpy(seed: int) -> None:
    """Sparse rows of which some follow from others; each is judged with all before it."""
    rng = np.random.default_rng(seed)
    rows = np.where(rng.random((60, 40)) < 0.1, rng.normal(size=(60, 40)), 0.0)
    for k in range(5, 60, 5):
        rows[k] = rng.normal(size=3) @ rows[rng.choice(k, 3)]
    basis = Basis()
    rank = 0
    for k in range(len(rows)):
        taken = basis.take({c: v for c, v in enumerate(rows[k].tolist()) if v})
        assert taken == (np.linalg.matrix_rank(rows[:k + 1], tol=1e-9) > rank)
        rank += taken


def test_parallel_at_an_offset_is_one_turn_and_one_place() -> None:
    part = frame(RECTANGLE, SIDES, said("offset", "e1", "e3", value="3"))
    found = [r for r in relations(part) if r.owner == "b1"]
    assert [sorted(axis for name, axis in r.terms if name == "e3") for r in found] == [
        ["turn"], ["place"]]
    assert not any(name in part.points for r in found for name, _ in r.terms)


@pytest.mark.parametrize(("one", "other"), [("e1", "e2"), ("e2", "e1"), ("e1", "e3")])
def test_an_angle_speaks_of_directions_alone_wherever_the_lines_meet(one: str, other: str) -> None:
    part = frame(RECTANGLE, [*SIDES, ("p1", "p3")], said("fixed", "p1"),
                 said("angle", one, other, value="90" if "e2" in (one, other) else "180"))
    (row,) = (r for r in relations(part) if r.owner == "b2")
    assert set(row.terms) == {(one, "turn"), (other, "turn")}
    # A turn counts by how far the ends move, so the longer line's weighs the less.
    sides = {"e1": 4.0, "e2": 3.0, "e3": 4.0}
    assert row.terms[one, "turn"] * sides[one] == pytest.approx(
        -row.terms[other, "turn"] * sides[other])


def test_a_line_without_length_has_no_direction() -> None:
    points = {"a": (2.0, 1.0), "b": (2.0, 1.0), "c": (5.0, 5.0)}
    part = frame(points, [("a", "b"), ("b", "c")], said("fixed", "a"),
                 said("distance", "e2", value="5"))
    found = relations(part)
    assert {name for r in found if r.role == "end" for name in [r.owner]} == {"e2"}
    chosen = determined(found, unknowns(part))
    assert len(chosen) == len(unknowns(part))
    # Of e2 3-4-5: its end at c moves square to it, by (-4/5, 3/5).
    (row,) = (r for r in found if r.points == ("c",))
    assert row.terms == pytest.approx({("c", "x"): -0.8, ("c", "y"): 0.6, ("e2", "place"): -1.0,
                                       ("e2", "turn"): -1.0})
