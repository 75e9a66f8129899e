"""Ranks, freedoms, loose points and doubled bindings of small frames.

Worked numbers: Laman's count 2n - 3 (J. Eng. Math. 4, 1970) and Bolker & Roth 1980 for K3,3 on a
conic, both from memory; ranks recomputed here by numpy in tests/outside/test_structure_rank.py.
"""

from __future__ import annotations

from itertools import combinations
from math import cos, sin, sqrt

import numpy as np
import pytest

from sketcher.part.value import ArcCurve, CircleCurve, Part
from sketcher.solve.freedom import Freedoms, directions, doubled_owners, freedoms
from sketcher.solve.rank import judge
from sketcher.solve.system import System
from tests.specimens import bar, frame, said


@pytest.fixture(params=["dense", "sparse"], autouse=True)
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every verdict is asked both ways, whatever the size of the part."""
    if request.param == "sparse":
        monkeypatch.setattr("sketcher.solve.system.SMALL", 0)
        monkeypatch.setattr("sketcher.solve.rank.SMALL", 2)


SIDES = (("p1", "p2"), ("p2", "p3"), ("p3", "p4"), ("p4", "p1"))
QUAD = {"p1": (0.0, 0.0), "p2": (5.0, 0.3), "p3": (4.0, 4.2), "p4": (-1.0, 3.0)}
RECTANGLE = {"p1": (0.0, 0.0), "p2": (4.0, 0.0), "p3": (4.0, 3.0), "p4": (0.0, 3.0)}
RIGHT = [said("square", f"e{k}", f"e{k % 4 + 1}") for k in (1, 2, 3, 4)]


def verdict(part: Part) -> Freedoms:
    system = System(part)
    return freedoms(system, system.x0)


def bars(points, pairs):
    return [bar(points, *pair) for pair in pairs]


FRAMES = {
    "quadrilateral": (frame(QUAD, (), *bars(QUAD, SIDES)), 4, 4, ()),
    "one diagonal": (frame(QUAD, (), *bars(QUAD, (*SIDES, ("p1", "p3")))), 5, 3, ()),
    "two diagonals": (
        frame(QUAD, (), *bars(QUAD, (*SIDES, ("p1", "p3"), ("p2", "p4")))), 5, 3, ("b6",)),
    "four right angles": (frame(RECTANGLE, SIDES, *RIGHT), 3, 5, ("b4",)),
    "four angles of 90": (
        frame(RECTANGLE, SIDES,
              *[said("angle", f"e{k}", f"e{k % 4 + 1}", value="90") for k in (1, 2, 3, 4)]),
        3, 5, ("b4",)),
    "three right angles, two lengths": (
        frame(RECTANGLE, SIDES, *RIGHT[:3], *bars(RECTANGLE, SIDES[:2])), 5, 3, ()),
    "four lengths, one right angle": (
        frame(RECTANGLE, SIDES, *bars(RECTANGLE, SIDES), RIGHT[0]), 5, 3, ()),
}


@pytest.mark.parametrize("name", FRAMES)
def test_worked_numbers(name: str) -> None:
    part, rank, count, doubled = FRAMES[name]
    found = verdict(part)
    assert (found.rank, found.count, found.doubled) == (rank, count, doubled)


def k33(places: list[tuple[float, float]]) -> Part:
    points = {f"p{k}": at for k, at in enumerate(places, 1)}
    pairs = [(f"p{i}", f"p{j}") for i in (1, 3, 5) for j in (2, 4, 6)]
    return frame(points, (), *bars(points, pairs))


ON_ELLIPSE = [(10 * cos(a), 6 * sin(a)) for a in (0.1, 1.2, 1.9, 3.3, 4.0, 5.5)]
ON_CIRCLE = [(10 * cos(a), 10 * sin(a)) for a in (0.1, 1.2, 1.9, 3.3, 4.0, 5.5)]


def test_k33_is_rigid_at_general_places_and_by_chance_on_a_conic() -> None:
    general = [(1.3, 8.4), (7.6, 2.5), (4.9, 4.5), (6.5, 7.8), (0.9, 0.2), (8.3, 4.3)]
    assert verdict(k33(general)).rank == 9
    # Of first order a motion exists on the ellipse; the sizes of the bars still allow none.
    system = System(k33(ON_ELLIPSE))
    assert judge(system.dense_jacobian(system.x0)).rank == 8
    found = verdict(k33(ON_ELLIPSE))
    assert (found.rank, found.count, found.doubled) == (9, 3, ())


def test_k33_bound_on_a_circle_is_three_bars_too_many() -> None:
    part = k33(ON_CIRCLE)
    held = [said("on", f"p{k}", "e1") for k in range(1, 7)]
    part = part.having(
        points={**part.points, "m": (0.0, 0.0)}, curves={"e1": CircleCurve("m", 10.0)},
        bindings={**{f"c{k}": b for k, b in enumerate(held)}, **part.bindings})
    found = verdict(part)
    # Beside 3 rigid motions: a radius and 5 angles between the points, for nine bars.
    assert (found.rank, found.count) == (12, 3)
    assert len(found.doubled) == 9 - 6


def test_points_in_line_by_chance_are_not_said_twice() -> None:
    row = {"p1": (0.0, 0.0), "p2": (1.0, 0.0), "p3": (3.0, 0.0)}
    pairs = [("p1", "p2"), ("p2", "p3"), ("p1", "p3")]
    found = verdict(frame(row, (), *bars(row, pairs)))
    assert (found.rank, found.count, found.doubled) == (3, 3, ())


def test_total_of_parts_in_line_is_said_twice() -> None:
    row = {"p1": (0.0, 0.0), "p2": (1.0, 0.0), "p3": (3.0, 0.0)}
    pairs = [("p1", "p2"), ("p2", "p3"), ("p1", "p3")]
    found = verdict(frame(row, (), said("in line", "p1", "p2", "p3"), *bars(row, pairs)))
    assert found.count == 3
    assert found.doubled == ("b4",)


def test_equal_parallel_bars_really_swing() -> None:
    points = {"p1": (0.0, 0.0), "p2": (4.0, 0.0), "p3": (7.0, 0.0),
              "p4": (1.0, 5.0), "p5": (5.0, 5.0), "p6": (8.0, 5.0)}
    pairs = [("p1", "p4"), ("p2", "p5"), ("p3", "p6"), ("p4", "p5"), ("p5", "p6"), ("p4", "p6")]
    part = frame(points, (), *[said("fixed", p) for p in ("p1", "p2", "p3")],
                 said("in line", "p4", "p5", "p6"), *bars(points, pairs))
    found = verdict(part)
    assert found.count == 1
    across = (5 / sqrt(26), -1 / sqrt(26))  # square to the bars
    assert {p.point for p in found.loose} == {"p4", "p5", "p6"}
    for point in found.loose:
        assert point.directions == (pytest.approx(across, abs=1e-9),)


def test_three_offsets_of_three_lines_are_one_too_many() -> None:
    points = {"p1": (0.0, 0.0), "p2": (5.0, 0.0), "p3": (1.0, 2.0), "p4": (6.0, 2.0),
              "p5": (0.0, 5.0), "p6": (4.0, 5.0)}
    part = frame(points, [("p1", "p2"), ("p3", "p4"), ("p5", "p6")],
                 said("offset", "e1", "e2", value="2"), said("offset", "e2", "e3", value="3"),
                 said("offset", "e1", "e3", value="5"))
    assert verdict(part).doubled == ("b3",)


def test_level_lines_at_an_offset_are_not_said_twice() -> None:
    points = {"p1": (0.0, 0.0), "p2": (5.0, 0.0), "p3": (1.0, 2.0), "p4": (6.0, 2.0)}
    part = frame(points, [("p1", "p2"), ("p3", "p4")], said("level", "e1"), said("level", "e2"),
                 said("offset", "e1", "e2", value="2"))
    found = verdict(part)
    assert found.doubled == ()
    assert found.count == 5


def test_substituted_binding_said_twice_is_named() -> None:
    points = {"p1": (0.0, 0.0), "p2": (5.0, 0.0), "p3": (9.0, 0.0)}
    part = frame(points, (), said("level", "p1", "p2"), said("level", "p2", "p3"),
                 said("level", "p1", "p3"))
    assert verdict(part).doubled == ("b3",)


def test_directions_of_a_pinned_bar_and_states() -> None:
    points = {"p1": (0.0, 0.0), "p2": (3.0, 4.0), "p3": (2.0, 0.0), "p4": (9.0, 9.0)}
    part = frame(points, [("p1", "p3"), ("p1", "p2"), ("p3", "p4")],
                 said("fixed", "p1"), said("fixed", "p3"), bar(points, "p1", "p2"))
    found = verdict(part)
    assert found.count == 3
    loose = {p.point: p.directions for p in found.loose}
    assert set(loose) == {"p2", "p4"}
    assert loose["p2"] == (pytest.approx((0.8, -0.6)),)
    assert loose["p4"] == ((1.0, 0.0), (0.0, 1.0))
    assert dict(found.states) == {"e1": "bound", "e2": "loose", "e3": "loose"}


def test_point_that_stands_still_in_a_loose_component_is_not_listed() -> None:
    # p3 is bound to both fixed points; p4 hangs on it by one bar.
    points = {"p1": (0.0, 0.0), "p2": (6.0, 0.0), "p3": (2.0, 5.0), "p4": (7.0, 7.0)}
    pairs = [("p1", "p3"), ("p2", "p3"), ("p3", "p4")]
    part = frame(points, (), said("fixed", "p1"), said("fixed", "p2"), *bars(points, pairs))
    found = verdict(part)
    assert [p.point for p in found.loose] == ["p4"]


def test_free_radius_of_a_circle_is_listed_by_its_id() -> None:
    part = frame({"m": (1.0, 2.0)}, [CircleCurve("m", 4.0)], said("fixed", "m"))
    found = verdict(part)
    assert found.count == 1
    assert [(p.point, p.directions) for p in found.loose] == [("e1", ())]
    assert found.states["e1"] == "loose"


def test_bound_arc() -> None:
    points = {"p1": (5.0, 0.0), "p2": (0.0, 5.0), "m": (0.0, 0.0)}
    part = frame(points, [ArcCurve(("p1", "p2"), "m")], said("fixed", "m"),
                 said("level", "m", "p1"), said("plumb", "m", "p2"),
                 said("radius", "e1", value="5"))
    found = verdict(part)
    assert (found.count, found.loose, dict(found.states)) == (0, (), {"e1": "bound"})


def test_empty_part_and_part_without_bindings() -> None:
    assert verdict(Part()) == Freedoms()
    found = verdict(frame({"p1": (0.0, 0.0), "p2": (1.0, 0.0)}, [("p1", "p2")]))
    assert (found.rank, found.count, len(found.loose)) == (0, 4, 2)


@pytest.mark.parametrize("size", [3, 5, 9])
def test_laman_count(size: int) -> None:
    """A chain of triangles has 2 n - 3 independent bars; every further bar is one too many."""
    rng = np.random.default_rng(size)
    points = {f"p{k}": tuple(rng.uniform(0, 50, 2).tolist()) for k in range(size)}
    names = list(points)
    pairs = [(a, b) for k, (a, b) in enumerate(combinations(names, 2))
             if names.index(b) - names.index(a) <= 2]
    assert len(pairs) == 2 * size - 3
    found = verdict(frame(points, (), *bars(points, pairs)))
    assert (found.rank, found.count, found.doubled) == (2 * size - 3, 3, ())
    if size > 3:
        found = verdict(frame(points, (), *bars(points, [*pairs, (names[0], names[-1])])))
        assert found.doubled == (f"b{len(pairs) + 1}",)


def test_doubled_can_all_go_together() -> None:
    """All bars of six points: what is named can go at once without a loss of rank."""
    rng = np.random.default_rng(4)
    points = {f"p{k}": tuple(rng.uniform(0, 9, 2).tolist()) for k in range(6)}
    part = frame(points, (), *bars(points, combinations(points, 2)))
    found = verdict(part)
    assert len(found.doubled) == 15 - 9
    rest = {n: b for n, b in part.bindings.items() if n not in found.doubled}
    again = verdict(part.having(bindings=rest))
    assert (again.rank, again.doubled) == (9, ())


def test_owner_with_one_needed_row_stays() -> None:
    # Rows 0 and 1 belong to owner 0, row 2 repeats row 0, row 3 repeats row 1.
    tie = np.array([[1, 0, -1, 0], [0, 1, 0, -1]]) / sqrt(2)
    assert doubled_owners(tie, [0, 0, 1, 2], [0, 1, 2]) == [1, 2]
    assert doubled_owners(tie[:1], [0, 0, 1, 2], [0]) == []
    assert doubled_owners(tie, [0, 0, 1, 2], [0]) == [0]


def test_directions_of_constants() -> None:
    motions = np.array([[1.0, 0.5], [0.0, 0.0]])
    assert directions(motions, np.array([[0, -1], [-1, -1], [1, 0]])) == [
        ((1.0, 0.0),), (), ((0.0, 1.0),)]


def test_a_direction_points_right_or_up() -> None:
    columns = np.array([[0, 1]])
    for way, tidy in (((0.0, -1.0), (0.0, 1.0)), ((-0.6, 0.8), (0.6, -0.8)),
                      ((0.6, -0.8), (0.6, -0.8)), ((1e-12, -1.0), (0.0, 1.0)),
                      ((1.0, -1e-8), (1.0, -1e-8))):
        assert directions(np.array(way)[:, None], columns) == [(pytest.approx(tidy, abs=1e-15),)]
