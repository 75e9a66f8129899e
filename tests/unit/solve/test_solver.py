"""The whole solve: branches, big changes, what happens when there is no solution, and drags."""

from __future__ import annotations

from dataclasses import replace
from math import atan2, degrees, dist, hypot

import numpy as np
import pytest

from sketcher.errors import EditError
from sketcher.part.kinds import bind
from sketcher.part.value import ArcCurve, Binding, CircleCurve, LineCurve, Part, frozen
from sketcher.solve import Drag, solve, solve_with
from sketcher.solve.newton import NewtonOutcome
from sketcher.solve.solver import vanishing
from sketcher.solve.system import System
from tests.refusals import refused
from tests.specimens import frame, said, strip


def largest_move(one: Part, other: dict) -> float:
    """Largest distance of points of the same name."""
    return max(dist(one.points[name], place) for name, place in other.items())


@pytest.mark.parametrize("count", [3, 7, 21, 61, 151])
def test_a_rough_wave_becomes_exact(count: int) -> None:
    part, exact = strip(count, rough=0.8, seed=count)
    solution = solve(part)
    assert solution.report.converged
    assert largest_move(solution.part, exact) < 1e-9
    assert max(map(abs, solution.report.residuals.values())) < 1e-11


def test_a_solved_part_stays_where_it_is() -> None:
    part, _ = strip(30, rough=0.5)
    once = solve(part).part
    again = solve(once)
    assert again.report.iterations <= 2
    assert largest_move(again.part, dict(once.points)) < 1e-12


def test_loose_geometry_moves_as_little_as_possible() -> None:
    """A bar made longer grows at both ends alike; a lone point stays."""
    part = frame({"a": (0.0, 0.0), "b": (10.0, 0.0), "z": (3.0, 7.0)}, [("a", "b")],
                 said("distance", "e1", value="14"))
    solution = solve(part)
    assert solution.part.points["a"] == pytest.approx((-2.0, 0.0), abs=1e-12)
    assert solution.part.points["b"] == pytest.approx((12.0, 0.0), abs=1e-12)
    assert solution.part.points["z"] == (3.0, 7.0)


def corner(radius: str = "4") -> Part:
    """Two lines at 60 degrees joined by an arc, tangent to both; outer ends held."""
    part = Part(
        points=frozen({"a": (0.0, 0.0), "b": (18.0, 0.5), "c": (22.0, 5.0), "d": (12.0, 26.0),
                       "k": (17.0, 5.0), "v": (25.0, 0.0)}),
        curves=frozen({"e1": LineCurve(("a", "b")), "r": ArcCurve(("b", "c"), "k"),
                       "e2": LineCurve(("c", "d"))}))
    listed = [
        ("fixed", ["a"], None), ("level", ["e1"], None), ("fixed", ["v"], None),
        ("angle", ["e2"], "60"), ("on", ["v", "e2"], None), ("distance", ["v", "d"], "26"),
        ("radius", ["r"], radius), ("tangent", ["e1", "r"], None), ("tangent", ["e2", "r"], None)]
    bindings = {f"b{k}": bind(part, *one) for k, one in enumerate(listed, 1)}
    return part.having(bindings=bindings)


def turn_of(part: Part) -> float:
    """Sweep of the arc in degrees."""
    kx, ky = part.points["k"]
    start, end = (atan2(part.points[p][1] - ky, part.points[p][0] - kx) for p in "bc")
    return degrees(end - start) % 360.0


@pytest.mark.parametrize("factor", [1 / 3, 0.5, 0.7, 1.4, 2.0, 3.0])
def test_a_radius_changed_by_up_to_three_keeps_its_fillet(factor: float) -> None:
    part = solve(corner()).part
    assert turn_of(part) == pytest.approx(120.0)
    for solution in (
        solve_with(part, values={"b7": repr(4.0 * factor)}),
        solve(part.having(bindings={
            **part.bindings, "b7": replace(part.bindings["b7"], value=repr(4.0 * factor))})),
    ):
        assert solution.report.converged
        # tangent length of a fillet in a corner of 60 degrees: r / tan(30), Machinery's Handbook
        reach = 4.0 * factor / np.tan(np.radians(30.0))
        assert solution.part.points["b"] == pytest.approx((25.0 - reach, 0.0), abs=1e-9)
        assert turn_of(solution.part) == pytest.approx(120.0)
        back = solve_with(solution.part, values={"b7": "4"})
        assert largest_move(back.part, dict(part.points)) < 1e-9


@pytest.mark.parametrize("angle", [25, 45, 100, 150])
def test_an_angle_changed_far_keeps_its_sector(angle: int) -> None:
    part = solve(corner("1")).part
    solution = solve_with(part, values={"b4": str(angle)})
    assert solution.report.converged
    assert turn_of(solution.part) == pytest.approx(180.0 - angle)


def test_parameters_are_changed_by_name() -> None:
    part = corner().having(parameters={"fillet": "4"})
    part = part.having(bindings={
        **part.bindings, "b7": replace(part.bindings["b7"], value="fillet/2")})
    solution = solve_with(solve(part).part, parameters={"fillet": "12"})
    assert solution.part.parameters["fillet"] == "12"
    assert dist(solution.part.points["k"], solution.part.points["b"]) == pytest.approx(6.0)
    with refused("parameters.wall", EditError):
        solve_with(part, parameters={"wall": "3"})
    with refused("bindings.b1", EditError, remedy=False):
        solve_with(part, values={"b1": "3"})


def test_a_point_does_not_change_sides_when_its_offset_shrinks_to_nothing_and_back() -> None:
    part = frame({"a": (0.0, 0.0), "b": (10.0, 0.0), "p": (4.0, 6.0)}, [("a", "b")],
                 said("fixed", "a"), said("fixed", "b"), said("offset", "e1", "p", value="6"),
                 said("run", "a", "p", value="4"))
    part = solve(part).part
    for value in ("0.001", "0", "9"):
        part = solve_with(part, values={"b3": value}).part
        assert part.points["p"] == pytest.approx((4.0, float(value)), abs=1e-12)


def test_level_line_keeps_its_sense_from_a_sketch_that_has_it_wrong() -> None:
    part = frame({"a": (0.0, 0.0), "b": (-0.3, 0.4)}, [("a", "b")], said("fixed", "a"),
                 Binding("level", ("e1",), None, "right"), said("distance", "e1", value="6"))
    assert solve(part).part.points["b"] == pytest.approx((6.0, 0.0), abs=1e-12)


def test_a_side_that_is_changed_turns_the_line_round() -> None:
    part = solve(frame({"a": (0.0, 0.0), "b": (6.0, 0.0)}, [("a", "b")], said("fixed", "a"),
                       said("level", "e1"), said("distance", "e1", value="6"))).part
    turned = part.having(bindings={
        **part.bindings, "b2": Binding("level", ("e1",), None, "left")})
    solution = solve(turned)
    assert solution.part.points["b"] == pytest.approx((-6.0, 0.0), abs=1e-12)
    assert solution.report.turned == ()


def test_an_offset_whose_side_is_changed_goes_to_the_other_side() -> None:
    part = frame({"a": (0.0, 0.0), "b": (10.0, 0.0), "p": (4.0, 6.0)}, [("a", "b")],
                 said("fixed", "a"), said("fixed", "b"), said("run", "a", "p", value="4"))
    part = part.having(bindings={
        **part.bindings, "b4": Binding("offset", ("e1", "p"), "6", "right")})
    assert solve(part).part.points["p"] == pytest.approx((4.0, -6.0), abs=1e-12)


def test_a_line_that_has_to_run_backwards_is_told() -> None:
    """Left part 60 of a total of 50: the line between them has to run to the left."""
    part = frame({"a": (0.0, 0.0), "b": (20.0, 0.0), "c": (50.0, 0.0)}, [("a", "b"), ("b", "c")],
                 said("fixed", "a"), said("level", "e1"), said("level", "e2"),
                 said("run", "a", "b", value="20"), said("run", "a", "c", value="50"))
    part = solve(part).part
    assert solve(part).report.turned == ()
    solution = solve_with(part, values={"b4": "60"})
    assert solution.report.converged
    assert solution.part.points["b"] == pytest.approx((60.0, 0.0))
    assert solution.report.turned == ("b3",)
    assert solution.part.bindings["b3"].side == "right"
    back = solve_with(solution.part, values={"b4": "20"})
    assert back.report.turned == ()


def test_of_two_crossings_the_one_that_was_meant_is_found_again() -> None:
    part = Part(
        points=frozen({"a": (0.0, 0.0), "b": (20.0, 0.0), "c": (10.0, -3.0), "p": (14.0, 0.5),
                       "q": (10.0, 2.0)}),
        curves=frozen({"e": LineCurve(("a", "b")), "r": ArcCurve(("p", "q"), "c")}))
    listed = [("fixed", ["a"], None), ("fixed", ["b"], None), ("fixed", ["c"], None),
              ("plumb", ["q", "c"], None), ("radius", ["r"], "5"), ("on", ["p", "e"], None)]
    part = part.having(bindings={f"b{k}": bind(part, *one) for k, one in enumerate(listed, 1)})
    assert solve(part).part.points["p"] == pytest.approx((14.0, 0.0), abs=1e-12)
    scrambled = part.having(points={**part.points, "p": (7.5, 0.5)})
    assert solve(scrambled).part.points["p"] == pytest.approx((14.0, 0.0), abs=1e-12)


def test_without_a_solution_the_last_good_geometry_stays() -> None:
    good = solve(frame({"a": (0.0, 0.0), "b": (5.0, 0.0), "c": (2.0, 3.0)},
                       [("a", "b"), ("b", "c"), ("c", "a")], said("distance", "e1", value="5"),
                       said("distance", "e2", value="4"))).part
    clash = good.having(bindings={**good.bindings, "b3": Binding("distance", ("e3",), "20")})
    solution = solve(clash)
    assert not solution.report.converged
    assert solution.report.state == "clashing"
    assert solution.part.points == good.points
    assert solution.part.bindings["b3"].value == "20"
    assert solution.report.residuals["b3"] == pytest.approx(
        dist(good.points["c"], good.points["a"]) - 20.0)
    assert solution.report.clashes == (("b1", "b2", "b3"),)


def test_a_fillet_too_large_for_its_lines_says_which_line_vanishes() -> None:
    """The lower line is 25 long less the fillet's R cot 30: at R12 it still fits, at R20 not."""
    part = solve_with(corner(), values={"b6": "60"}).part
    assert solve_with(part, values={"b7": "12"}).report.converged
    solution = solve_with(part, values={"b7": "20"})
    assert not solution.report.converged
    assert solution.part.points == part.points
    assert solution.report.vanishing == ("e1",)


def test_a_contradiction_of_held_points_is_not_solved() -> None:
    part = frame({"a": (0.0, 0.0), "b": (4.0, 3.0)}, [("a", "b")], said("fixed", "a"),
                 said("fixed", "b"), said("level", "e1"))
    solution = solve(part)
    assert not solution.report.converged
    assert solution.part.points == part.points


def test_a_doubled_but_agreeing_binding_is_solved() -> None:
    part = frame({"a": (0.0, 0.1), "b": (4.0, 0.0), "c": (4.2, 3.0), "d": (0.0, 2.8)},
                 [("a", "b"), ("b", "c"), ("c", "d"), ("d", "a")], said("fixed", "a"),
                 said("square", "e1", "e2"), said("square", "e2", "e3"),
                 said("square", "e3", "e4"), said("square", "e4", "e1"))
    solution = solve(part)
    assert solution.report.converged
    assert solution.report.doubled == ("b5",)


def test_reference_dimensions_do_not_pull() -> None:
    part = frame({"a": (0.0, 0.0), "b": (5.0, 0.0)}, [("a", "b")],
                 said("distance", "e1", value="5"),
                 said("run", "a", "b", value="9", drives=False))
    solution = solve(part)
    assert solution.report.converged
    assert set(solution.report.residuals) == {"b1"}
    assert solution.part.points == part.points


def test_a_loose_point_follows_the_pointer_and_bound_ones_stay() -> None:
    part = solve(frame({"a": (0.0, 0.0), "b": (10.0, 0.0), "c": (3.0, 8.0)},
                       [("a", "b"), ("b", "c")], said("fixed", "a"), said("level", "e1"),
                       said("distance", "e1", value="9"), said("distance", "e2", value="9"))).part
    drag = Drag(part, ["c"])
    for angle in np.linspace(2.0, 2.8, 8):
        goal = (9.0 + 15.0 * np.cos(angle), 15.0 * np.sin(angle))
        solution = drag.to({"c": goal})
        assert solution.report.converged
    found = solution.part.points
    assert found["a"] == (0.0, 0.0)
    assert found["b"] == pytest.approx((9.0, 0.0), abs=1e-12)
    assert dist(found["b"], found["c"]) == pytest.approx(9.0, abs=1e-12)
    # near the place on the circle about b that is nearest to the pointer: far from what can be
    # reached the pull converges by a constant factor a step, and the next event goes on from here
    toward = np.subtract(goal, found["b"]) / 15.0
    assert np.subtract(found["c"], found["b"]) / 9.0 == pytest.approx(toward, abs=5e-3)


def test_dragging_what_is_bound_moves_nothing() -> None:
    part, _ = strip(20)
    part = solve(part).part
    x, y = part.points["p9"]
    solution = Drag(part, ["p9"]).to({"p9": (x + 3.0, y - 2.0)})
    assert solution.report.converged
    assert largest_move(solution.part, dict(part.points)) < 1e-9


@pytest.mark.parametrize("count", [11, 61])
def test_a_wave_with_one_length_missing_is_drawn_out(count: int) -> None:
    part, _ = strip(count)
    part = part.having(bindings={n: b for n, b in part.bindings.items() if n != "l4"})
    x, y = part.points["p8"]
    solution = Drag(part, ["p8"]).to({"p8": (x + 2.0, y)})
    assert solution.part.points["p8"] == pytest.approx((x + 2.0, y), abs=1e-3)
    assert max(map(abs, solution.report.residuals.values())) < 1e-11


def test_a_circle_is_dragged_by_its_rim() -> None:
    part = Part(points=frozen({"k": (1.0, 1.0)}), curves=frozen({"h": CircleCurve("k", 2.0)}),
                bindings=frozen({"f": Binding("fixed", ("k",))}))
    solution = Drag(part, ["h"]).to({"h": (4.0, 5.0)})
    assert solution.part.curves["h"].radius == pytest.approx(5.0, abs=1e-3)
    assert solution.part.points["k"] == (1.0, 1.0)


def test_a_drag_refuses_what_it_does_not_know() -> None:
    part, _ = strip(3)
    with refused("e0", EditError, remedy=False):
        Drag(part, ["e0"])
    with refused("p2", EditError, remedy=False):
        Drag(part, ["p1"]).to({"p2": (0.0, 0.0)})


def test_the_same_sketch_always_gives_the_same_part() -> None:
    part, _ = strip(40, rough=3.0, seed=5)
    one, other = solve(part), solve(part)
    assert one.part.points == other.part.points
    assert hypot(*one.part.points["p1"]) > 0.0


def test_a_drag_leaves_alone_what_nothing_connects() -> None:
    part = Part(
        points=frozen({"a": (0.0, 0.0), "b": (10.0, 1.0), "c": (0.0, 20.0), "d": (10.0, 21.0)}),
        curves=frozen({"e1": LineCurve(("a", "b")), "e2": LineCurve(("c", "d"))}),
        bindings=frozen({"b1": Binding("level", ("e1",)), "b2": Binding("level", ("e2",))}))
    drag = Drag(solve(part).part, ["b"])
    first = drag.to({"b": (11.0, 3.0)}).part
    solution = drag.to({"b": (14.0, 6.0)})
    found = solution.part.points
    assert found["b"] == pytest.approx((14.0, 6.0), abs=1e-3)
    assert found["a"][1] == pytest.approx(found["b"][1], abs=1e-12)
    assert found["c"] is first.points["c"]
    assert found["d"] is first.points["d"]
    assert solution.part.curves is first.curves
    assert solution.report.converged
    assert set(solution.report.residuals) == {"b1", "b2"}


@pytest.mark.parametrize(("left", "lost"), [(0.4, ("e1",)), (0.6, ())])
def test_a_curve_with_a_twentieth_of_its_extent_left_vanishes(left, lost):
    part = frame({"a": (0.0, 0.0), "b": (10.0, 0.0), "m": (5.0, 5.0)},
                 [("a", "b"), CircleCurve("m", 4.0)], said("fixed", "a"))
    system = System(part)
    there = part.having(points={**part.points, "b": (left, 0.0)})
    found = NewtonOutcome(system.at(there), 1.0, False, 3)
    assert vanishing(system, found) == lost
    small = there.having(points=part.points, curves={**part.curves,
                                                     "e2": CircleCurve("m", 0.4 * left)})
    assert vanishing(system, NewtonOutcome(system.at(small), 1.0, False, 3)) == (
        ("e2",) if lost else ())
