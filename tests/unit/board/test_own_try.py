"""A step drawn by hand: what it begins with, and what is said of what was drawn."""

from __future__ import annotations

import json
from dataclasses import replace
from math import cos, radians, sin
from random import Random
from time import process_time

import pytest

from sketcher.board.board import Board
from sketcher.board.files.open_and_save import may_leave
from sketcher.board.teaching.beats import Beat
from sketcher.board.teaching.lesson_play import LessonPlay
from sketcher.board.teaching.own_try import OwnTry, TryStart, try_start
from sketcher.board.teaching.try_judge import Judged, Judgement, judge
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import moved
from sketcher.lesson.order import construction_order
from sketcher.lesson.order_step import OrderStep
from sketcher.part.file_text import read
from sketcher.part.store import load
from sketcher.part.value import (
    ArcCurve,
    Binding,
    CircleCurve,
    LineCurve,
    Mirror,
    Part,
    PartCurve,
    frozen,
)
from sketcher.part.whole import half
from sketcher.solve.solver import solve
from tests.demo_parts import FOLDER
from tests.hosts import AnsweringHost
from tests.lessons import roof, roof_steps
from tests.proof.bound_parts import bound_part


def corner() -> Part:
    """Two edges at a right angle, a fillet of 8 between them, a hole of 6 tangent to nothing."""
    return Part(
        points=frozen({"p1": (0.0, 0.0), "p2": (32.0, 0.0), "f1": (32.0, 8.0), "p3": (40.0, 8.0),
                       "p4": (40.0, 30.0)}),
        curves=frozen({"e1": LineCurve(("p1", "p2")), "a1": ArcCurve(("p2", "p3"), "f1"),
                       "e2": LineCurve(("p3", "p4"))}),
        bindings=frozen({
            "b1": Binding("fixed", ("p1",)), "b2": Binding("level", ("e1",)),
            "b3": Binding("plumb", ("e2",)), "b4": Binding("run", ("p1", "p4"), "40"),
            "b5": Binding("rise", ("p1", "p4"), "30"), "b6": Binding("radius", ("a1",), "8"),
            "b7": Binding("tangent", ("e1", "a1")), "b8": Binding("tangent", ("e2", "a1"))}))


STEPS = (
    OrderStep(1, "Mark p1.", (), ("p1",), ("b1",)),
    OrderStep(2, "Scribe e1 level through p1.", ("e1",), (), ("b2",)),
    OrderStep(3, "p4 is 40 to the right of p1 and 30 above it.", (), ("p4",), ("b4", "b5")),
    OrderStep(4, "Scribe e2 plumb through p4.", ("e2",), (), ("b3",)),
    OrderStep(5, "Fillet a1 with R8.", ("a1", "e1", "e2"), ("f1", "p2", "p3"),
              ("b6", "b7", "b8")),
)


AT_ONCE = (
    *STEPS[:1],
    OrderStep(2, "Draw e1, a1 and e2.", ("e1", "a1", "e2"), ("p4", "f1", "p2", "p3"),
              tuple(f"b{k}" for k in range(2, 9))),
)


def at_step(part: Part, steps: tuple[OrderStep, ...], number: int) -> tuple[Part, TryStart]:
    solved = solve(part).part
    play = LessonPlay(solved, steps)
    play.go_to(number)
    return solved, try_start(play)


def drawn(start: TryStart, *curves: Curve, mirrors: tuple[Mirror, ...] = ()) -> Part:
    """The try with curves drawn in it, with ids of their own."""
    points: dict[str, XY] = dict(start.part.points)
    made: dict[str, PartCurve] = dict(start.part.curves)

    def point(at: XY) -> str:
        points[f"n{len(points)}"] = at
        return f"n{len(points) - 1}"

    for k, curve in enumerate(curves):
        if isinstance(curve, Line):
            made[f"own{k}"] = LineCurve((point(curve.start), point(curve.end)))
        elif isinstance(curve, Arc):
            made[f"own{k}"] = ArcCurve((point(curve.start), point(curve.end)), point(curve.center),
                                       "ccw" if curve.ccw else "cw")
        else:
            made[f"own{k}"] = CircleCurve(point(curve.center), curve.radius)
    return start.part.having(points=points, curves=made, mirrors=mirrors)


def said(number: int, *curves: Curve, steps: tuple[OrderStep, ...] = STEPS) -> Judgement:
    part, start = at_step(corner(), steps, number)
    return judge(part, steps[number - 1], start, drawn(start, *curves))


def said_of(name: str, *curves: Curve) -> Judged:
    """What is said of one curve where all are drawn in one step."""
    judgement = said(2, *curves, steps=AT_ONCE)
    return next(one for one in judgement.told if one.name == name)


def text(judgement: Judgement) -> str:
    return " ".join(one.text for one in judgement.told)


# What it begins with.


def test_it_begins_with_what_was_drawn_before_and_with_nothing_else() -> None:
    _, start = at_step(corner(), STEPS, 5)
    assert set(start.part.curves) == {"e1", "e2"}
    assert {"p1", "p4"} <= set(start.part.points)
    assert not {"p2", "p3", "f1"} & set(start.part.points)  # they would give the answer away
    lines = half(start.part)
    assert lines["e1"].length > 32.0  # no end shows where the fillet begins
    assert {beat.name for beat in start.wanted} == {"f1", "p2", "p3", "a1", "e1", "e2"}


@pytest.mark.parametrize("number", range(1, 9))
def test_what_it_begins_with_is_fixed_and_no_binding_is_redundant(number: int) -> None:
    _, start = at_step(roof(), roof_steps(), number)
    solution = solve(start.part)
    assert solution.report.converged
    assert solution.report.freedoms == 0
    assert solution.report.doubled == ()
    assert solution.part.points == start.part.points


def test_the_papers_numbers_stay_as_references_and_a_hole_keeps_its_own() -> None:
    _, start = at_step(roof(), roof_steps(), 8)
    assert start.part.bindings["b5"] == Binding("distance", ("e2",), "25", drives=False)
    assert start.part.bindings["b8"] == Binding("diameter", ("h1",), "6")


def test_no_reference_is_kept_of_a_line_that_is_still_too_long() -> None:
    """The length of e1 is known before p3 is found, and the line that carries ax runs on."""
    part = roof()
    bindings = {**part.bindings, "b9": Binding("distance", ("ax",), "15", drives=False)}
    steps = list(roof_steps())
    steps[2] = replace(steps[2], bindings=("b2", "b9"))
    solved, start = at_step(part.having(bindings=bindings), tuple(steps), 5)
    assert "b9" in solved.bindings
    assert "b9" not in start.part.bindings


# What is said.


def test_a_right_curve_is_right_however_it_was_drawn() -> None:
    fillet = Arc((32.0, 8.0), (32.0, 0.0), (40.0, 8.0))
    back = Arc((32.0, 8.0), (40.0, 8.0), (32.0, 0.0), False)
    edges = (Line((0.0, 0.0), (32.0, 0.0)), Line((40.0, 30.0), (40.0, 8.0)))
    for arc in (fillet, back):
        judgement = said(2, arc, *edges, steps=AT_ONCE)
        assert judgement.right, text(judgement)
        assert "a1: lies as it should." in text(judgement)


def test_a_circle_in_the_place_of_an_arc_is_right_and_still_to_be_cut() -> None:
    judgement = said(5, Circle((32.0, 8.0), 8.0))
    first = next(one for one in judgement.told if one.name == "a1")
    assert first.right
    assert first.text == "a1: lies as it should; cut it back to p2 and p3."


def test_a_longer_line_is_right_and_a_shorter_one_is_not() -> None:
    long = said_of("e1", Line((-5.0, 0.0), (50.0, 0.0)))
    assert (long.right, long.text) == (True, "e1: lies as it should; cut it back to p1 and p2.")
    short = said_of("e1", Line((0.0, 0.0), (20.0, 0.0)))
    assert (short.right, short.text) == (
        False, "e1: lies on the right line, but 12 of it is missing.")


def test_a_line_in_two_pieces_is_whole() -> None:
    assert said_of("e1", Line((0.0, 0.0), (20.0, 0.0)), Line((32.0, 0.0), (20.0, 0.0))).right


def test_a_curve_that_runs_there_already_only_wants_its_ends() -> None:
    steps = (*STEPS[:4], OrderStep(5, "p2 is on e1, at the foot of f1.", ("e1",), ("p2",), ()))
    assert text(said(5, steps=steps)).startswith("p2: nothing is drawn that marks it")
    assert said(5, Line((32.0, 8.0), (32.0, -4.0)), steps=steps).right
    beside = said(5, Line((30.0, 8.0), (30.0, -4.0)), steps=steps)
    assert text(beside) == "p2: it lies 2 from its place."


def test_an_endless_line_needs_no_length_while_its_ends_are_not_known() -> None:
    assert said(2, Line((3.0, 0.0), (9.0, 0.0))).right


def test_a_wrong_radius_is_told_with_the_papers_number() -> None:
    r = 7.0
    judgement = said(5, Arc((40.0 - r, r), (40.0 - r, 0.0), (40.0, r)))
    first = next(one for one in judgement.told if one.name == "a1")
    assert not first.right
    assert first.text == "a1: radius of a1 is 7 where the paper says 8."  # it touches both edges


def test_a_radius_that_the_step_has_no_number_for_is_told_by_the_construction() -> None:
    steps = (*STEPS[:4], replace(STEPS[4], bindings=("b7", "b8")))
    first = next(one for one in said(5, Circle((33.0, 7.0), 7.0), steps=steps).told
                 if one.name == "a1")
    assert first.text == "a1: its radius is 7 where the construction has 8."


def test_a_curve_that_touches_nothing_is_told_so() -> None:
    judgement = said(5, Arc((30.0, 8.0), (30.0, 0.0), (38.0, 8.0)))
    first = next(one for one in judgement.told if one.name == "a1")
    assert first.text == "a1: e2 tangent to a1 does not hold, it is 2 off."


def test_the_other_side_is_told() -> None:
    judgement = said(5, Circle((48.0, 8.0), 8.0))
    first = next(one for one in judgement.told if one.name == "a1")
    assert first.text == "a1: e2 tangent to a1, but on the other side."


def test_the_other_way_round_of_the_circle_is_told() -> None:
    judgement = said(5, Arc((32.0, 8.0), (32.0, 0.0), (40.0, 8.0), False))
    first = next(one for one in judgement.told if one.name == "a1")
    assert (first.right, first.text) == (
        False, "a1: lies on the right circle, but on its other side.")


def test_what_was_drawn_is_held_against_what_it_lies_nearest_to() -> None:
    judgement = said(2, Line((40.0, 9.0), (41.0, 30.0)), Line((0.0, 1.0), (32.0, 0.0)),
                     steps=AT_ONCE)
    told = {one.name: one.own for one in judgement.told}
    assert told == {"e1": ("own1",), "a1": (), "e2": ("own0",)}


def test_nothing_drawn_is_told() -> None:
    assert text(said(2)) == "e1: no line is drawn for it yet."
    assert "two lines or circles that cross there" in text(said(3))


@pytest.mark.parametrize("way", ["point", "crossing", "center"])
def test_a_point_is_marked_by_whatever_ends_or_crosses_there(way: str) -> None:
    ways: dict[str, tuple[Curve, ...]] = {
        "point": (Line((40.0, 30.0), (50.0, 44.0)),),
        "crossing": (Line((40.0, -5.0), (40.0, 50.0)), Line((-5.0, 30.0), (60.0, 30.0))),
        "center": (Circle((40.0, 30.0), 2.0),)}
    assert said(3, *ways[way]).right


def test_a_point_elsewhere_is_told_with_the_papers_numbers() -> None:
    judgement = said(3, Line((38.0, -5.0), (38.0, 50.0)), Line((-5.0, 30.0), (60.0, 30.0)))
    assert text(judgement) == "p4: run p1 to p4 is 38 where the paper says 40."


def test_a_center_elsewhere_is_told_from_the_point_that_it_should_be() -> None:
    step = OrderStep(7, "Draw circle h1 about c1 with Ø6.", ("h1",), (), ("b8",))
    steps = (*roof_steps()[:5], OrderStep(6, "c1 is 5 above p1.", (), ("c1",), ("b7",)), step)
    part, start = at_step(roof(), steps, 7)
    judgement = judge(part, step, start, drawn(start, Circle((2.0, 4.0), 2.5)))
    assert text(judgement) == ("h1: its center is 2 to the right of and 1 below c1; "
                               "diameter of h1 is 5 where the paper says 6.")


def test_a_wrong_angle_is_told_in_degrees() -> None:
    part = corner()
    bindings = {**part.bindings, "b3": Binding("angle", ("e1", "e2"), "90")}
    solved, start = at_step(part.having(bindings=bindings), STEPS, 4)
    turn = radians(85.0)
    line = Line((40.0, 30.0), (40.0 - 20.0 * cos(turn), 30.0 - 20.0 * sin(turn)))
    assert text(judge(solved, STEPS[3], start, drawn(start, line))) == (
        "e2: angle e1 to e2 is 85° where the paper says 90.")


@pytest.mark.parametrize("how", ["mirror", "line", "none"])
def test_a_reflection_counts_however_it_is_made(how: str) -> None:
    part, start = at_step(roof(), roof_steps(), 8)
    if how == "mirror":
        made = drawn(start, mirrors=(Mirror("ax"),))
    elif how == "line":
        made = drawn(start, Line((0.0, 0.0), (-20.0, 0.0)), Line((-20.0, 0.0), (0.0, 15.0)))
    else:
        made = drawn(start, Line((0.0, 0.0), (-20.0, 0.0)))
    judgement = judge(part, roof_steps()[7], start, made)
    assert judgement.right == (how != "none")
    if how == "none":
        assert text(judgement) == "1 of 2 images lie as they should."


# On the board.


def test_the_part_its_history_and_its_file_come_back() -> None:
    board = Board(roof())
    board.bench.do("Name", lambda part: part.having(name="Gable"))
    bench, part, history = board.bench, board.part, board.bench.history
    play = LessonPlay(part, roof_steps())
    play.go_to(5)
    own = OwnTry(board, play)
    own.begin()
    assert board.part.name == "Gable, step 5 by hand"
    assert bench.path is None
    assert not bench.is_changed
    bench.do("Name", lambda part: part.having(name="x"))
    own.end()
    assert board.part is part
    assert bench.history is history
    assert bench.is_changed
    assert bench.give_back is None
    assert bench.undo()
    assert board.part.name == "Roof"
    own.end()  # once is enough
    assert board.part.name == "Roof"


def test_whoever_leaves_the_part_is_asked_about_it_and_not_about_the_try() -> None:
    board, host = Board(roof()), AnsweringHost()
    play = LessonPlay(board.part, roof_steps())
    play.go_to(5)
    own = OwnTry(board, play)
    own.begin()
    board.bench.do("Name", lambda part: part.having(name="x"))
    assert may_leave(board, host)
    assert host.calls == []
    assert board.part.name == "Roof"


def told_right(part: Part) -> None:
    """Every step of a part is right where it is drawn right, and wrong where nothing is drawn."""
    steps = construction_order(part)
    play = LessonPlay(part, steps)
    for number, step in enumerate(steps, 1):
        play.go_to(number)
        if not play.draws_new:
            continue
        start = try_start(play)
        curves = [curve for beat in start.wanted for curve in beat.curves]
        curves += [Line(at, (at[0] + 3.0, at[1] + 5.0)) for at in (b.at for b in start.wanted)
                   if at is not None]
        right = judge(part, step, start, drawn(start, *curves))
        assert right.told, step.text
        assert right.right, text(right)
        assert not judge(part, step, start, start.part).right, step.text
        off = [moved(curve, 0.37, 0.23) for curve in curves]
        assert not judge(part, step, start, drawn(start, *off)).right, step.text


@pytest.mark.parametrize("name", ["gate-strap", "pump-flange", "practice/08-pedal-foot"])
def test_every_step_of_a_part_can_be_drawn_by_hand(name: str) -> None:
    told_right(solve(load(FOLDER / f"{name}.profile.json")).part)


@pytest.mark.parametrize("seed", range(8))
def test_every_step_of_a_random_part_can_be_drawn_by_hand(seed: int) -> None:
    tree = bound_part(Random(seed)).tree(f"{seed}")
    told_right(solve(read(json.dumps(tree).encode())).part)


def test_a_value_by_a_parameter_is_told_with_what_it_comes_to() -> None:
    part = corner().having(parameters={"r": "8"}, bindings={
        **corner().bindings, "b6": Binding("radius", ("a1",), "r")})
    solved, start = at_step(part, AT_ONCE, 2)
    judgement = judge(solved, AT_ONCE[1], start, drawn(start, Circle((33.0, 7.0), 7.0)))
    assert "radius of a1 is 7 where the paper says 8 (r)" in text(judgement)


def test_a_thousand_images_are_compared_quickly() -> None:
    centers = [(8.0 * (k % 32), 8.0 * (k // 32)) for k in range(960)]
    wanted = Beat(0, "h1#1", tuple(Circle(at, 2.0) for at in centers), at_once=True)
    start = TryStart(Part(), (wanted,), 1)
    made = drawn(start, *(Circle(at, 2.0) for at in reversed(centers)))
    begun = process_time()
    assert judge(Part(), OrderStep(1, ""), start, made).right
    assert process_time() - begun < 0.5  # 0.05 measured; 1.0 where each is held against each
