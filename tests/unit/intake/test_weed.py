"""Specks, doubles, overlaps and seams; places and lengths follow from the drawings themselves."""

from __future__ import annotations

import random
from math import cos, radians, sin
from time import perf_counter

import pytest

from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import reversed_curve
from sketcher.intake.linework import Linework
from sketcher.intake.weed import one_place, weeded
from sketcher.intake.wishes import Wishes
from tests.drawn import drawn, lines_through, plain, shapes_of, told

SQUARE = lines_through((0, 0), (10, 0), (10, 10), (0, 10))
FINE = 1e-4


def weed(*curves: Curve, keep: str = "", quantum: float = 0.0) -> Linework:
    return weeded(drawn(*curves, quantum=quantum), Wishes(keep=frozenset(keep.split())))


def test_nothing_is_told_of_a_clean_drawing() -> None:
    lines = weed(*SQUARE, Circle((5, 5), 2))
    assert plain(lines) == [*SQUARE, Circle((5, 5), 2)]
    assert lines.repairs == ()


def test_a_line_without_length_is_a_speck() -> None:
    lines = weed(*SQUARE, Line((3, 3), (3, 3)))
    assert plain(lines) == SQUARE
    assert told(lines) == [("speck-5", True)]


@pytest.mark.parametrize(("length", "left"), [(1.4 * FINE, 4), (1.6 * FINE, 5)])
def test_a_speck_is_no_longer_than_two_readings_of_one_place_are_apart(
    length: float, left: int
) -> None:
    assert len(weed(*SQUARE, Line((3, 3), (3 + length, 3)), quantum=FINE).curves) == left


def test_few_decimals_make_no_edges_of_a_small_drawing_specks() -> None:
    """0.05 mm, the widest gap that is closed unasked, is the most that one place is wide."""
    small = lines_through((0, 0), (1, 0), (1, 1), (0, 1))
    assert plain(weed(*small, quantum=1.0)) == small
    assert one_place(drawn(*small, quantum=1.0)) == 0.05


@pytest.mark.parametrize("again", [SQUARE[0], reversed_curve(SQUARE[0])])
def test_a_line_drawn_twice_is_kept_once_whichever_way_it_runs(again: Curve) -> None:
    lines = weed(*SQUARE, again)
    assert shapes_of(plain(lines)) == shapes_of(SQUARE)
    assert told(lines) == [("double-1-5", True)]
    assert lines.curves[0].entities == (1, 5)


def test_circles_and_arcs_drawn_three_times_are_kept_once() -> None:
    arc = Arc((0, 0), (5, 0), (0, 5))
    other_way = Arc((0, 0), (0, 5), (5, 0))
    lines = weed(arc, Circle((9, 9), 2), reversed_curve(arc), Circle((9, 9), 2), arc, other_way)
    assert Circle((9, 9), 2) in plain(lines)
    assert ("double-2-4", True) in told(lines)
    # The other way round from end to end is no double: with it the arc is a whole circle.
    assert shapes_of(plain(lines)) == shapes_of([Circle((9, 9), 2), Circle((0, 0), 5)])


@pytest.mark.parametrize(("off", "left"), [(1.4 * FINE, 4), (1.6 * FINE, 5)])
def test_doubles_may_differ_by_two_readings_of_one_place(off: float, left: int) -> None:
    assert len(weed(*SQUARE, Line((0, off), (10, off)), quantum=FINE).curves) == left


def test_lines_that_lie_on_each_other_in_part_become_their_union() -> None:
    lines = weed(Line((0, 0), (6, 0)), Line((10, 0), (4, 0)), *SQUARE[1:])
    assert shapes_of(plain(lines)) == shapes_of(SQUARE)
    assert told(lines) == [("overlap-1-2", True)]


def test_the_union_keeps_a_corner_at_which_another_curve_ends() -> None:
    lines = weed(Line((0, 0), (6, 0)), Line((4, 0), (10, 0)), Line((6, 0), (6, 5)))
    assert shapes_of(plain(lines)) == shapes_of(
        [Line((0, 0), (6, 0)), Line((6, 0), (10, 0)), Line((6, 0), (6, 5))])


def test_arcs_round_one_circle_become_their_union_and_the_whole_circle_where_they_close() -> None:
    def about(first: float, last: float) -> Arc:
        ends = [(5 * cos(radians(a)), 5 * sin(radians(a))) for a in (first, last)]
        return Arc((0.0, 0.0), ends[0], ends[1])

    assert shapes_of(plain(weed(about(0, 100), reversed_curve(about(60, 200))))) == shapes_of(
        [about(0, 200)])
    assert shapes_of(plain(weed(about(300, 40), about(20, 90)))) == shapes_of([about(300, 90)])
    for arcs in ((about(0, 200), about(180, 370)), (about(0, 150), about(100, 260), about(250, 5))):
        assert shapes_of(plain(weed(*arcs))) == shapes_of([Circle((0, 0), 5)])
    assert plain(weed(Circle((0, 0), 5), about(10, 80))) == [Circle((0, 0), 5)]


def test_arcs_that_touch_at_their_ends_are_no_overlap() -> None:
    """Smooth joints of arcs of other circles, inside each other and apart, and a lens of two."""
    arcs: list[Curve] = [
        Arc((0, 0), (5, 0), (-5, 0)), Arc((-3, 0), (-5, 0), (-1, 0)), Arc((7, 0), (5, 0), (9, 0)),
        Arc((0, 0), (0, -5), (5, 0)), Arc((30, -3), (34, 0), (26, 0)),
        Arc((30, 3), (26, 0), (34, 0))]
    assert plain(weed(*arcs, keep="seam")) == arcs


@pytest.mark.parametrize(("shared", "left"), [(3.0, 2), (12.0, 1)])
def test_ends_that_meet_roughly_are_no_overlap(shared: float, left: int) -> None:
    lines = weed(Line((0, 0), (5 + shared * FINE, 0)), Line((5, 0), (10, 0)), Line((5, 0), (5, 4)),
                 quantum=FINE, keep="seam")
    assert sum(isinstance(c, Line) and c.start[1] == c.end[1] for c in plain(lines)) == left + (
        left == 1)  # the third line's corner cuts the union


def test_lines_on_one_line_that_only_meet_are_a_seam() -> None:
    lines = weed(Line((0, 0), (4, 0)), Line((10, 0), (4, 0)), *SQUARE[1:])
    assert shapes_of(plain(lines)) == shapes_of(SQUARE)
    assert told(lines) == [("seam-1-2", True)]


def test_a_seam_stays_where_a_third_curve_ends() -> None:
    lines = weed(Line((0, 0), (4, 0)), Line((4, 0), (10, 0)), Line((4, 0), (4, 3)))
    assert len(lines.curves) == 3


def test_two_half_circles_are_a_circle_and_quarters_of_one_are_an_arc() -> None:
    top, bottom = Arc((0, 0), (5, 0), (-5, 0)), Arc((0, 0), (5, 0), (-5, 0), False)
    assert shapes_of(plain(weed(top, bottom))) == shapes_of([Circle((0, 0), 5)])
    quarters = [Arc((0, 0), (5, 0), (0, 5)), Arc((0, 0), (-5, 0), (0, 5), False)]
    assert shapes_of(plain(weed(*quarters))) == shapes_of([top])


def test_smooth_arcs_of_other_radii_stay_apart() -> None:
    arcs = [Arc((0, 0), (5, 0), (0, 5)), Arc((0, 1), (0, 5), (-4, 1))]
    assert plain(weed(*arcs)) == arcs


@pytest.mark.parametrize(("off", "left"), [(1.4 * FINE, 1), (1.6 * FINE, 2)])
def test_a_seam_may_stand_off_by_two_readings_of_one_place(off: float, left: int) -> None:
    pieces = Line((0, 0), (5, off)), Line((5, off), (10, 0))
    assert len(weed(*pieces, quantum=FINE).curves) == left


def test_a_short_edge_at_a_corner_is_no_seam() -> None:
    # The corner lies within the tolerance of the line between the far ends; it breaks by 45 deg.
    pieces = Line((0, 0), (5, 0)), Line((5, 0), (5 + 2 * FINE, 2 * FINE))
    assert len(weed(*pieces, quantum=FINE).curves) == 2


def test_chords_of_an_arc_are_no_seams_however_flat_the_arc() -> None:
    # Chords of 1 deg on a radius of 2: each joint stands off by 0.3 widths of one place.
    places = [(2 * cos(radians(a)), 2 * sin(radians(a))) for a in range(30)]
    assert len(weed(*lines_through(*places, close=False), quantum=1e-3).curves) == 29


def test_a_long_flat_row_is_joined_only_as_far_as_it_stays_on_the_line() -> None:
    """Ten joints that each stand off by less than the tolerance come to 25 times as much."""
    places = [(x, 0.02 * FINE * (x - 5.0) ** 2 * (1 + 4 * (x % 2))) for x in range(11)]
    lines = weed(*lines_through(*places, close=False), quantum=FINE)
    worst = max(min(abs((p[1] - c.start[1]) - (c.end[1] - c.start[1]) * (p[0] - c.start[0])
                        / (c.end[0] - c.start[0])) for c in plain(lines)
                    if isinstance(c, Line) and c.start[0] <= p[0] <= c.end[0]) for p in places)
    assert 1 <= len(lines.curves) < 10
    assert worst <= one_place(drawn(quantum=FINE))


@pytest.mark.parametrize("kind", ["speck", "double", "overlap", "seam"])
def test_each_repair_is_refused_by_kind_and_by_name(kind: str) -> None:
    damage: dict[str, list[Curve]] = {
        "speck": [*SQUARE, Line((3, 3), (3, 3))],
        "double": [*SQUARE, SQUARE[2]],
        "overlap": [Line((0, 0), (6, 0)), Line((4, 0), (10, 0)), *SQUARE[1:]],
        "seam": [Line((0, 0), (4, 0)), Line((4, 0), (10, 0)), *SQUARE[1:]],
    }
    (repair,) = weed(*damage[kind]).repairs
    assert repair.kind == kind
    for keep in (kind, repair.name):
        lines = weed(*damage[kind], keep=keep)
        assert plain(lines) == damage[kind]
        assert told(lines) == [(repair.name, False)]


def test_order_and_sense_of_the_entities_make_no_difference() -> None:
    curves = [Line((0, 0), (6, 0)), Line((4, 0), (10, 0)), Line((6, 0), (6, 5)), *SQUARE[1:],
              SQUARE[2], Arc((20, 0), (25, 0), (20, 5)), Arc((20, 0), (20, 5), (15, 0)),
              Arc((20, 0), (25, 0), (20, 5)), Line((1, 1), (1, 1)),
              Circle((30, 0), 3), Circle((30, 0), 3)]
    want = shapes_of(plain(weed(*curves)))
    pick = random.Random(4)
    for _ in range(30):
        mixed = [reversed_curve(c) if pick.random() < 0.5 else c
                 for c in pick.sample(curves, len(curves))]
        assert shapes_of(plain(weed(*mixed))) == want


def test_twenty_thousand_curves_take_seconds() -> None:
    curves: list[Curve] = []
    for x in range(0, 1000, 10):
        for y in range(0, 500, 10):
            curves += [Line((x, y), (x + 4, y)), Line((x + 4, y), (x + 8, y)),
                       Line((x + 8, y), (x + 8, y + 8)), Line((x, y), (x + 8, y + 8))]
    began = perf_counter()
    assert len(weed(*curves).curves) == 15_000
    # 1.0 s on two slow cores; all pairs would be two hundred million.
    assert perf_counter() - began < 15.0
