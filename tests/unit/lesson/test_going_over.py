"""The outline gone over in the order of its loops, and what makes a slot."""

from __future__ import annotations

from sketcher.geometry.curves import Arc, Circle
from sketcher.lesson.going_over import chains, places_along
from sketcher.lesson.smooth_slots import slots_of
from sketcher.part.store import load
from sketcher.part.value import ArcCurve, LineCurve, Part, frozen
from sketcher.solve.solver import solve
from tests.demo_parts import SOUND
from tests.specimens import frame

SQUARE = {"p1": (0.0, 0.0), "p2": (4.0, 0.0), "p3": (4.0, 4.0), "p4": (0.0, 4.0)}


def test_a_loop_is_run_through_once_whatever_the_sense_of_its_lines() -> None:
    part = frame(SQUARE, [("p1", "p2"), ("p3", "p2"), ("p4", "p3"), ("p4", "p1")])
    assert list(chains(part)) == [[("e1", False), ("e2", True), ("e3", True), ("e4", False)]]


def test_an_open_run_begins_at_a_loose_end() -> None:
    part = frame(SQUARE, [("p2", "p3"), ("p2", "p1"), ("p3", "p4")])
    (run,) = chains(part)
    assert [name for name, _ in run] in (["e2", "e1", "e3"], ["e3", "e1", "e2"])


def test_where_three_edges_meet_the_run_ends() -> None:
    part = frame(SQUARE, [("p1", "p2"), ("p2", "p3"), ("p2", "p4")])
    assert sorted(len(run) for run in chains(part)) == [1, 1, 1]


def slot(radius: float, more: tuple[float, float] | None) -> Part:
    points = {"p1": (0.0, -1.0), "p2": (9.0, -radius), "p3": (9.0, radius), "p4": (0.0, 1.0),
              "c1": (0.0, 0.0), "c2": (9.0, 0.0)}
    curves = {"e1": LineCurve(("p1", "p2")), "e2": ArcCurve(("p2", "p3"), "c2"),
              "e3": LineCurve(("p3", "p4")), "e4": ArcCurve(("p4", "p1"), "c1")}
    if more:
        points |= {"q1": (-5.0, -5.0), "q2": more}
        curves["e5"] = LineCurve(("q1", "q2"))
    return Part(points=frozen(points), curves=frozen(curves))


def test_a_slot_lies_in_a_plate_and_has_ends_of_one_size() -> None:
    assert list(slots_of(slot(1.0, (20.0, 5.0)))) == [("e1", "e2", "e3", "e4")]
    assert list(slots_of(slot(1.0, None))) == []
    assert list(slots_of(slot(2.0, (20.0, 5.0)))) == []


def test_the_slots_of_the_shift_arm_are_found() -> None:
    arm = solve(load(next(path for path in SOUND if "shift-arm" in path.name))).part
    assert sorted(map(sorted, slots_of(arm))) == [["a10", "a7", "a8", "a9"],
                                                  ["a5", "a6", "e5", "e6"]]


def test_places_along_a_round_lie_on_it() -> None:
    arc = Arc((1.0, 2.0), (4.0, 2.0), (1.0, 5.0), True)
    along = places_along(arc)
    assert along[0] == (4.0, 2.0)
    assert max(abs((x - 1.0) ** 2 + (y - 2.0) ** 2 - 9.0) for x, y in along) < 1e-9
    assert abs(along[-1][0] - 1.0) + abs(along[-1][1] - 5.0) < 1e-9
    assert places_along(Circle((0.0, 0.0), 2.0))[0] == (2.0, 0.0)
