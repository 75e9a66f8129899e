"""Ends that nearly meet; places follow from the drawings themselves."""

from __future__ import annotations

import random
from itertools import pairwise
from math import cos, dist, pi, sin
from time import perf_counter

import pytest

from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import midpoint, reversed_curve
from sketcher.geometry.loops import find_loops
from sketcher.intake.close import GAPS, closed
from sketcher.intake.linework import Linework
from sketcher.intake.moved_ends import with_ends
from sketcher.intake.wishes import Wishes
from tests.drawn import drawn, lines_through, plain, shapes_of, told

SQUARE = lines_through((0, 0), (10, 0), (10, 10), (0, 10))


def close(*curves: Curve, keep: str = "", gap: float | None = None, quantum: float = 0.0
          ) -> Linework:
    return closed(drawn(*curves, quantum=quantum), Wishes(gap=gap, keep=frozenset(keep.split())))


def is_closed(lines: Linework) -> bool:
    return find_loops((str(n), c) for n, c in enumerate(plain(lines))).sound


def test_a_closed_outline_is_left_alone() -> None:
    lines = close(*SQUARE)
    assert plain(lines) == SQUARE
    assert (lines.repairs, lines.noise) == ((), 0.0)


def test_lines_that_stop_short_of_their_corner_meet_where_they_cross() -> None:
    lines = close(Line((0, 0), (9.97, 0)), Line((10, 0.03), (10, 10)), *SQUARE[2:])
    assert shapes_of(plain(lines)) == shapes_of(SQUARE)
    assert told(lines) == [("gap-1-2", True)]
    (repair,) = lines.repairs
    assert repair.at == pytest.approx((10, 0))
    assert repair.size == pytest.approx(0.03)
    assert repair.text == "the ends are 0.0424 mm apart; made to meet"
    assert shapes_of(repair.after) == shapes_of(SQUARE[:2])


def test_tails_past_a_corner_are_cut_even_where_their_ends_lie_further_apart() -> None:
    lines = close(Line((0, 0), (10.045, 0)), Line((10, -0.045), (10, 10)), *SQUARE[2:])
    assert shapes_of(plain(lines)) == shapes_of(SQUARE)
    assert lines.repairs[0].text == "the end runs past 0.045 mm; made to meet"


def test_tails_longer_than_the_gap_stay() -> None:
    assert told(close(Line((0, 0), (10.055, 0)), Line((10, -0.045), (10, 10)), *SQUARE[2:])) == []


def test_a_line_that_was_cut_in_two_meets_in_the_middle_and_becomes_one() -> None:
    lines = close(Line((0, 0), (4.98, 0)), Line((5.02, 0), (10, 0)), *SQUARE[1:])
    assert shapes_of(plain(lines)) == shapes_of(SQUARE)
    assert told(lines) == [("gap-1-2", True), ("seam-1-2", True)]


def test_nearly_parallel_ends_meet_in_the_middle_not_far_away_where_they_cross() -> None:
    """A line that reaches an arc 0.02 beside it, where they run alike."""
    arc = Arc((10, 5), (10, 0), (15, 5))
    lines = close(Line((0, -0.02), (10, -0.02)), arc)
    assert lines.repairs[0].at == pytest.approx((10, -0.01), abs=1e-9)


@pytest.mark.parametrize(("gap", "open_"), [(0.049, False), (0.051, True)])
def test_the_gap_of_millimetres(gap: float, open_: bool) -> None:
    lines = close(Line((0, 0), (5 - gap, 0)), Line((5, 0), (10, 0)), *SQUARE[1:])
    assert is_closed(lines) is not open_
    assert GAPS["mm"] == 0.05


@pytest.mark.parametrize(("edge", "open_"), [(0.41, False), (0.39, True)])
def test_a_gap_is_at_most_a_tenth_of_the_shorter_edge(edge: float, open_: bool) -> None:
    """0.04 before an edge of 0.39 stays open: such a gap may be drawn on purpose."""
    lines = close(Line((0, 0), (1, 0)), Line((1.04, 0), (1.04 + edge, 0)), keep="seam")
    assert (lines.repairs == ()) is open_


def test_a_person_closes_wider_gaps_and_fewer() -> None:
    wide = Line((0, 0), (8, 0)), Line((10, 0), (10, 10)), *SQUARE[2:]
    assert not is_closed(close(*wide))
    assert is_closed(close(*wide, gap=2.0))
    narrow = Line((0, 0), (9.97, 0)), *SQUARE[1:]
    assert is_closed(close(*narrow))
    assert not is_closed(close(*narrow, gap=0.01))


def test_a_gap_is_refused_by_kind_and_by_name() -> None:
    damage = [Line((0, 0), (9.97, 0)), *SQUARE[1:]]
    for keep in ("gap", "gap-1-2"):
        lines = close(*damage, keep=keep)
        assert plain(lines) == damage
        assert told(lines) == [("gap-1-2", False)]
        assert lines.noise == 0.0


@pytest.mark.parametrize(("sweep", "circle"), [(2 * pi - 0.004, True), (2 * pi - 0.02, False)])
def test_an_arc_that_nearly_closes_is_a_circle(sweep: float, circle: bool) -> None:
    lines = close(Arc((1, 1), (6, 1), (1 + 5 * cos(sweep), 1 + 5 * sin(sweep))))
    assert isinstance(plain(lines)[0], Circle) is circle
    if circle:
        assert shapes_of(plain(lines)) == shapes_of([Circle((1, 1), 5)])


def test_an_arc_with_a_slot_at_its_mouth_is_no_circle() -> None:
    a, b = (5 * cos(0.004), 5 * sin(0.004)), (5 * cos(-0.004), 5 * sin(-0.004))
    arc = Arc((0, 0), a, b)
    slot = [Line(a, (9, a[1])), Line((9, b[1]), b), Line((9, a[1]), (9, b[1]))]
    assert plain(close(arc, *slot)) == [arc, *slot]


def test_a_short_line_does_not_lose_its_length() -> None:
    small = lines_through((0, 0), (0.04, 0), (0.04, 0.04), (0, 0.04))
    assert plain(close(*small)) == small
    assert plain(close(*small, gap=1.0)) == small


def test_four_ends_near_one_corner_become_one_place_and_the_doubles_go() -> None:
    pick = random.Random(3)

    def off(p: tuple[float, float]) -> tuple[float, float]:
        return (p[0] + pick.uniform(-0.01, 0.01), p[1] + pick.uniform(-0.01, 0.01))

    twice = [Line(off(c.start), off(c.end)) for c in (*SQUARE, *SQUARE) if isinstance(c, Line)]
    lines = close(*twice)
    assert is_closed(lines)
    assert len(lines.curves) == 4
    assert sum(repair.kind == "double" for repair in lines.repairs) == 4


def test_pieces_that_are_each_off_by_themselves_become_one_curve() -> None:
    """A side in two pieces that lie on each other, a speck on its corner, and a double beside it.

    None of them is within what a file written to the last digit can tell apart.
    """
    lines = close(
        Line((0.003, 0.002), (6, -0.004)), Line((4, 0.003), (9.998, 0.005)),
        Line((10.001, 0), (10.006, 0.004)), Line((0.002, -0.003), (10.004, 0.001)),
        *(Line((c.start[0] + 0.004, c.start[1] - 0.003), (c.end[0] - 0.002, c.end[1] + 0.005))
          for c in SQUARE[1:] if isinstance(c, Line)))
    assert is_closed(lines)
    assert len(lines.curves) == 4
    assert {"gap", "overlap", "speck"} == {repair.kind for repair in lines.repairs}


def test_a_row_of_ends_does_not_draw_together() -> None:
    """Six ends, each 0.04 from the next: no two that become one place are a gap apart."""
    rays = [Line((0.04 * k, 0), (3.0 * k, 20)) for k in range(6)]
    lines = close(*rays)
    for before, after in zip(rays, plain(lines), strict=True):
        assert isinstance(after, Line)
        assert dist(before.start, after.start) <= 0.05
    starts = {curve.start for curve in plain(lines) if isinstance(curve, Line)}
    assert len(starts) == 3


def test_two_joints_near_each_other_stay_two() -> None:
    """Two plates whose corners lie 0.02 apart."""
    other = lines_through((10.02, 10), (20, 10), (20, 20), (10.02, 20))
    assert plain(close(*SQUARE, *other)) == [*SQUARE, *other]


def test_a_loose_end_comes_to_a_joint_and_the_joint_stays() -> None:
    lines = close(*SQUARE, Line((10.01, 10.02), (20, 20)))
    assert plain(lines)[:4] == SQUARE
    assert plain(lines)[4] == Line((10, 10), (20, 20))


def test_ends_of_arcs_that_are_moved_keep_the_radius() -> None:
    arc = Arc((0, 0), (5, 0), (0, 5))
    moved = with_ends(arc, (5.01, 0.0), (0.0, 4.99))
    assert isinstance(moved, Arc)
    assert moved.radius == pytest.approx(5.0, abs=1e-12)
    assert dist(midpoint(moved), midpoint(arc)) < 0.02


@pytest.mark.parametrize("sweep", [pi - 1e-3, pi, pi + 1e-3])
def test_half_a_turn_keeps_its_middle_rather_than_its_radius(sweep: float) -> None:
    """With the radius kept the middle of a half circle would move by 0.3 where its ends move 0.01.

    sqrt(2 5 0.01) from the circle's equation.
    """
    arc = Arc((0, 0), (5, 0), (5 * cos(sweep), 5 * sin(sweep)))
    for wider in (-0.01, 0.01):
        moved = with_ends(arc, (5 + wider, 0), (arc.end[0] - wider, arc.end[1]))
        assert isinstance(moved, Arc)
        assert dist(midpoint(moved), midpoint(arc)) < 0.021
        assert abs(moved.radius - 5) < 0.011


def test_rounding_is_joined_without_a_word() -> None:
    fine = 1e-3
    lines = close(Line((0, 0), (10.0005, 0)), *SQUARE[1:], quantum=fine)
    assert is_closed(lines)
    assert lines.repairs == ()


def test_the_noise_is_what_most_ends_were_off() -> None:
    pick = random.Random(5)
    places = [(20 * cos(a / 50), 20 * sin(a / 50)) for a in range(0, 300, 10)]
    pieces = [Line((p[0] + pick.uniform(-0.01, 0.01), p[1] + pick.uniform(-0.01, 0.01)), q)
              for p, q in pairwise([*places, places[0]])]
    assert 0.002 < close(*pieces).noise < 0.02
    one_gap = [Line((0, 0), (9.97, 0)), *SQUARE[1:], *lines_through((20, 0), (30, 0), (25, 9)),
               *lines_through((40, 0), (50, 0), (45, 9)), *lines_through((60, 0), (70, 0), (65, 9))]
    assert close(*one_gap).noise == 0.0
    assert close(*one_gap, quantum=1e-4).noise == 0.5e-4


def test_order_and_sense_of_the_entities_make_no_difference() -> None:
    curves: list[Curve] = [
        Line((0, 0), (9.97, 0.01)), Line((10, -0.03), (10, 10.01)), Line((10.02, 10), (4.98, 10)),
        Line((5.02, 10), (0, 10)), Line((0.0, 9.98), (0, 0.02)), Line((0.01, 9.99), (0, 0.01)),
        Arc((3, 3), (4, 3.01), (4, 2.99)), Arc((7, 7), (8, 7.02), (6, 7.01)),
        Arc((7, 7), (6, 6.99), (8, 7))]
    want = shapes_of(plain(close(*curves)))
    assert len(want) < len(curves)
    pick = random.Random(4)
    for _ in range(30):
        mixed = [reversed_curve(c) if pick.random() < 0.5 else c
                 for c in pick.sample(curves, len(curves))]
        assert shapes_of(plain(close(*mixed))) == want


def test_five_thousand_gaps_take_seconds() -> None:
    pick = random.Random(1)
    curves: list[Curve] = []
    for x in range(0, 1000, 20):
        for y in range(0, 500, 20):
            corners = [(x, y), (x + 10, y), (x + 10, y + 10), (x, y + 10)]
            for p, q in pairwise([*corners, corners[0]]):
                curves.append(Line(*((a + pick.uniform(-0.01, 0.01), b + pick.uniform(-0.01, 0.01))
                                     for a, b in (p, q))))
    began = perf_counter()
    assert is_closed(close(*curves))
    # 2 s on two slow cores; it grows with the number of gaps.
    assert perf_counter() - began < 15.0
