"""A construction is played: what is seen when, to and fro, by steps and by hand moves."""

from __future__ import annotations

from math import dist, pi, tau
from time import process_time

import pytest

from sketcher.board.teaching.beats import TAKING, Beat, swing
from sketcher.board.teaching.lesson_play import LessonPlay
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.evaluate import end_of
from sketcher.lesson.order import construction_order
from sketcher.lesson.order_step import OrderStep
from sketcher.part.store import load
from sketcher.part.value import Part
from sketcher.part.whole import whole
from sketcher.solve.solver import solve
from tests.demo_parts import SOUND
from tests.lessons import fence, roof, roof_steps


def played(by_hand: bool = False) -> LessonPlay:
    play = LessonPlay(roof(), roof_steps())
    play.show_hand(by_hand)
    return play


def full(play: LessonPlay) -> set[str]:
    """What is drawn for good by now: curves and images by name."""
    view = play.view()
    return {beat.name for beat in play.telling.beats[:view.done] if beat.weight in ("full", "axis")}


def run(play: LessonPlay, most: int = 100_000) -> int:
    """Let it play at 60 pictures a second until it rests; return how many."""
    for count in range(most):
        if not play.tick(1.0 / 60.0):
            return count
    raise AssertionError("it never rests")


def test_nothing_is_seen_before_the_first_step() -> None:
    play = played()
    assert play.number == 1
    assert play.view().done == 0
    assert play.view().share == 0.0
    assert not play.plays


def test_a_whole_play_draws_every_curve_of_the_part_and_ends_by_itself() -> None:
    play = played()
    play.toggle()
    assert run(play) > 60
    assert play.is_over
    assert not play.plays
    assert full(play) == {"ax", "e1", "e2", "h1", "e1'"}
    drawn = [curve for beat in play.telling.beats if beat.weight in ("full", "axis")
             for curve in beat.curves]
    # e1' and e2' grow at once under one name; h1 is its own reflection. ax is drawn on its way
    # and as long as it is; an axis is not gone over.
    assert len(drawn) - 1 == len(whole(roof())) == 6


@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.name.split(".")[0])
@pytest.mark.parametrize("by_hand", [False, True])
def test_the_outline_of_a_demo_part_is_gone_over_once(path: object, by_hand: bool) -> None:
    part = solve(load(path)).part  # type: ignore[arg-type]
    play = LessonPlay(part, construction_order(part))
    play.show_hand(by_hand)
    drawn = [curve for beat in play.telling.beats for curve in beat.curves
             if beat.weight == "full"]
    wanted = [piece.curve for piece in whole(part) if piece.role == "outline"]
    assert len(drawn) == len(wanted)
    assert {repr(curve) for curve in drawn} == {repr(curve) for curve in wanted}


def test_a_line_whose_ends_are_not_known_runs_on_and_is_cut_to_length_later() -> None:
    play = played()
    lengths = [beat.curves[0].length for beat in play.telling.beats if beat.name == "e1"]
    weights = [beat.weight for beat in play.telling.beats if beat.name == "e1"]
    assert lengths == [27.0, 20.0, 20.0]  # as its first stroke has it, then from p1 to p2
    assert weights == ["thin", "thin", "full"]


def test_next_draws_one_sentence_and_rests_and_pressed_again_finishes_it_at_once() -> None:
    play = played()
    play.onward()
    assert play.plays
    run(play)
    assert play.number == 1
    assert play.is_drawn
    play.onward()
    play.tick(0.2)
    assert play.number == 2
    assert not play.is_drawn
    play.onward()
    assert play.is_drawn
    assert not play.plays
    assert play.number == 2


def test_back_goes_to_the_begin_of_the_sentence_and_then_to_the_one_before() -> None:
    play = played()
    play.go_to(4)
    play.onward()
    run(play)
    done = play.view().done
    play.back()
    assert play.number == 4
    assert play.view().done < done
    play.back()
    assert play.number == 3
    play.go_to(1)
    play.back()
    assert play.number == 1


def test_next_at_the_end_stays_there_and_play_begins_anew() -> None:
    play = played()
    play.go_to(len(play.steps) + 1)
    play.onward()
    assert play.is_over
    play.toggle()
    assert play.plays
    assert play.number == 1


def test_the_hand_moves_are_told_one_by_one_and_the_step_stays() -> None:
    play = played()
    play.go_to(3)
    play.show_hand(True)
    assert play.number == 3
    assert (play.passage.move, play.passage.moves) == (1, 2)
    assert play.passage.text.startswith("Swing any opening about p1")
    play.onward()
    run(play)
    assert [beat.name for beat in play.view().helpers] == ["3C", "3A", "3B"]
    play.onward()
    assert play.passage.move == 2
    assert play.passage.names == ("3A", "3B", "ax", "p1")
    play.show_hand(False)
    assert play.number == 3
    assert play.passage.move == 0


def test_helpers_go_with_their_step_and_come_back_where_they_are_used() -> None:
    play = played(by_hand=True)
    play.go_to(4)
    assert play.view().helpers == ()
    play.go_to(5)
    assert {beat.name for beat in play.view().helpers} == {"3A", "3C"}  # for 5B and 5D


def test_what_the_hand_draws_is_thin_until_it_is_gone_over() -> None:
    beats = played(by_hand=True).telling.beats
    for name in ("e1", "e2", "h1", "e1'"):
        assert [b.weight for b in beats if b.name == name] == ["thin", "full"]
    assert [b.weight for b in beats if b.name == "ax"] == ["axis"]


def test_a_step_that_only_goes_over_draws_nothing_new() -> None:
    play = played()
    news = []
    for number in range(1, 9):
        play.go_to(number)
        news.append(play.draws_new)
    assert news == [True] * 6 + [False, True]


def test_the_parts_of_a_step_are_said_with_it_and_have_their_time() -> None:
    short = OrderStep(1, "The datum p1.", (), ("p1",))
    long = OrderStep(1, "The datum p1.", (), ("p1",), substeps=("Mark p1.", "Draw e1 level."))
    plays = [LessonPlay(roof(), (step,)) for step in (short, long)]
    assert plays[1].passage.text == "The datum p1. (a) Mark p1. (b) Draw e1 level."
    assert plays[1].telling.ends[-1] > plays[0].telling.ends[-1]


def test_the_compass_is_opened_between_two_points_before_it_swings() -> None:
    play = played(by_hand=True)
    beat = next(b for b in play.telling.beats if b.name == "3D")
    assert beat.taken == ((8.0, 0.0), (-8.0, 0.0))
    assert beat.swung(0.5 * TAKING / beat.lasts) == 0.0
    assert beat.grown(0.5 * TAKING / beat.lasts) == ()
    assert beat.swung(1.0) == 1.0


def test_the_protractor_lies_along_its_base() -> None:
    play = played(by_hand=True)
    beat = next(b for b in play.telling.beats if b.name == "5C")
    assert beat.tool == "protractor"
    assert beat.foot == (0.0, 0.0)
    assert beat.base == pytest.approx(0.0, abs=1e-4) or beat.base == pytest.approx(tau, abs=1e-4)


@pytest.mark.parametrize("share", [0.0, 1e-12, 0.25, 0.5, 1.0])
def test_a_curve_grows_from_its_start_in_proportion(share: float) -> None:
    circle = Beat(0, "h1", (Circle((1.0, 2.0), 3.0),), tool="compass")
    line = Beat(0, "e1", (Line((0.0, 0.0), (10.0, 0.0)), Line((10.0, 0.0), (10.0, 30.0))))
    for beat, length in ((circle, 6.0 * pi), (line, 40.0)):
        grown = sum(curve.length for curve in beat.grown(share))
        assert grown == pytest.approx(share * length, abs=1e-8)
        tip = beat.tip(share)
        assert tip is not None
    assert dist(circle.tip(0.25) or (0.0, 0.0), (1.0, 5.0)) == pytest.approx(
        dist(end_of(Arc((1.0, 2.0), (4.0, 2.0), (1.0, 5.0))), (1.0, 5.0)), abs=1e-9)


def test_images_grow_at_once() -> None:
    beat = Beat(0, "e1'", (Line((0.0, 0.0), (8.0, 0.0)), Line((0.0, 1.0), (4.0, 1.0))),
                at_once=True)
    assert [curve.length for curve in beat.grown(0.5)] == [4.0, 2.0]


def test_an_arc_of_the_compass_runs_by_its_turn() -> None:
    arc = swing((0.0, 0.0), 2.0, 0.0, -0.5 * pi)
    assert isinstance(arc, Arc)
    assert arc.length == pytest.approx(pi)
    assert arc.end == pytest.approx((0.0, -2.0))


def test_speed_is_that_of_time() -> None:
    slow, quick = played(), played()
    quick.speed = 4.0
    slow.toggle()
    quick.toggle()
    assert run(slow) == pytest.approx(4 * run(quick), abs=4)


def cost(play: LessonPlay, number: int) -> float:
    """Seconds for 400 moments of one step, the best of three."""
    best = float("inf")
    for _ in range(3):
        play.go_to(number)
        play.toggle()
        start = process_time()
        for _ in range(400):
            play.tick(1e-4)
            play.view()
        best = min(best, process_time() - start)
    return best


def test_a_moment_of_the_601st_step_costs_what_one_of_the_11th_does() -> None:
    play = LessonPlay(*fence(300))
    play.show_hand(True)
    assert len(play.steps) == 601
    ratio = cost(play, 600) / cost(play, 10)
    assert ratio < 2.0  # a search by halves takes a few turns more; twice as much is noise


def test_no_step_without_a_part_breaks_it() -> None:
    play = LessonPlay(Part(), roof_steps()[:1])
    play.toggle()
    run(play)
    assert play.is_over
