"""Loops, nesting and every way an outline can be unsound."""

from __future__ import annotations

import random
from itertools import pairwise, permutations
from math import cos, pi, sin, tau

import pytest

from sketcher.geometry import loops
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.evaluate import reversed_curve
from sketcher.geometry.loops import MOST, find_loops
from sketcher.geometry.meet_many import meetings
from sketcher.geometry.moments import signed_area


def box(x0, y0, x1, y1, name):
    corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    return [
        (f"{name}{k}", Line(corners[k], corners[(k + 1) % 4])) for k in range(4)
    ]


SQUARE = box(0.0, 0.0, 10.0, 10.0, "a")


def test_nesting_three_deep_whatever_the_order():
    items = [*SQUARE, *box(2.0, 2.0, 8.0, 8.0, "b"), ("c", Circle((5.0, 5.0), 1.0)),
             ("d", Circle((1.0, 1.0), 0.5))]
    for seed in range(10):
        rng = random.Random(seed)
        mixed = [(i, reversed_curve(c) if rng.random() < 0.5 else c) for i, c in items]
        rng.shuffle(mixed)
        found = find_loops(mixed)
        assert found.sound
        by_name = {min(loop.ids): loop for loop in found.loops}
        assert {n: loop.depth for n, loop in by_name.items()} == {"a0": 0, "b0": 1, "c": 2, "d": 1}
        assert {n: loop.hole for n, loop in by_name.items()} == {
            "a0": False, "b0": True, "c": False, "d": True,
        }
        names = [min(loop.ids) for loop in found.loops]
        assert names[by_name["c"].parent] == "b0"
        assert names[by_name["d"].parent] == "a0"
        for loop in found.loops:
            assert all(p.end == q.start for p, q in pairwise((*loop.curves, loop.curves[0]))
                       if len(loop.curves) > 1)
            if len(loop.curves) > 1:
                assert (signed_area(loop.curves) > 0) != loop.hole
        assert found.moments.area == pytest.approx(100 - 36 + pi - pi / 4)
        assert found.contains((5.0, 5.5))
        assert not found.contains((3.0, 3.0))
        assert not found.contains((1.0, 1.2))
        assert found.contains((0.2, 0.2))


def test_small_faults_of_digits_do_not_open_a_loop():
    half = Arc((0.0, 0.0), (1.0, 0.0), (-1.0, 0.0))
    (loop,) = find_loops([("a", half), ("b", Line((-1.0, 0.0), (1.0, 1e-12)))]).loops
    assert loop.curves[0].start == loop.curves[1].end
    assert loop.perimeter == pytest.approx(2 + pi)


def test_stray_and_stub():
    found = find_loops([*SQUARE, ("s", Line((20, 0), (25, 0))), ("t", Line((10, 10), (12, 10)))])
    assert len(found.loops) == 1
    assert found.strays == ("s", "t")
    assert found.branches[0].ids == ("a1", "a2", "t")
    assert not found.sound


def test_open_outline_has_no_loop():
    found = find_loops(SQUARE[:3])
    assert found.loops == ()
    assert found.strays == ("a0", "a1", "a2")


def test_line_across_an_outline_is_the_stray():
    found = find_loops([*SQUARE, ("x", Line((0.0, 0.0), (10.0, 10.0)))])
    assert found.strays == ("x",)
    assert found.loops[0].area == pytest.approx(100.0)


def test_arc_tangent_inside_is_the_stray_too():
    # The inner arc leaves both corners along the edges' own directions.
    items = [*SQUARE, ("x", Arc((0.0, 0.0), (10.0, 0.0), (0.0, 10.0)))]
    assert find_loops(items).strays == ("x",)


def test_of_three_ways_between_two_places_the_middle_one_is_the_stray():
    # No place has just two curves, so nothing says which way round but the geometry.
    bow, dip = Arc((0, 0), (5, 0), (-5, 0)), Arc((0, 0), (-5, 0), (5, 0))
    for order in permutations([("bow", bow), ("dip", dip), ("chord", Line((-5, 0), (5, 0)))]):
        found = find_loops(order)
        assert found.strays == ("chord",)
        assert found.loops[0].area == pytest.approx(25 * pi)


def test_dead_ends_outside_inside_and_between_are_strays():
    tails = [("out", Line((10, 10), (15, 12))), ("twig", Line((15, 12), (18, 9))),
             ("in", Line((0, 0), (4, 4))), ("leaf", Line((4, 4), (4, 7))),
             ("other", Line((4, 4), (7, 4)))]
    found = find_loops([*tails, *SQUARE])
    assert sorted(found.strays) == sorted(name for name, _ in tails)
    assert [loop.area for loop in found.loops] == [pytest.approx(100.0)]


def test_bridge_between_two_outlines():
    found = find_loops([*SQUARE, *box(20, 10, 30, 15, "b"), ("x", Line((10, 10), (20, 10)))])
    assert found.strays == ("x",)
    assert sorted(loop.area for loop in found.loops) == pytest.approx([50.0, 100.0])


def test_outlines_that_share_a_corner():
    found = find_loops([*SQUARE, *box(10, 10, 15, 15, "b")])
    assert sorted(loop.area for loop in found.loops) == pytest.approx([25.0, 100.0])
    assert found.strays == ()
    assert len(found.branches) == 1


def test_hole_that_touches_its_outline_at_a_corner():
    inner = [("h0", Line((0.0, 0.0), (4.0, 1.0))), ("h1", Line((4.0, 1.0), (1.0, 4.0))),
             ("h2", Line((1.0, 4.0), (0.0, 0.0)))]
    found = find_loops([*SQUARE, *inner])
    assert sorted(loop.depth for loop in found.loops) == [0, 1]
    assert found.moments.area == pytest.approx(100.0 - 7.5)


def test_twice_drawn_edge():
    found = find_loops([*SQUARE, ("x", Line((10.0, 0.0), (0.0, 0.0)))])
    assert len(found.loops) == 1
    assert found.strays == ("x",)
    ((a, b, pieces),) = found.overlaps
    assert {a, b} == {"a0", "x"}
    assert pieces[0].length == pytest.approx(10.0)


def test_twice_drawn_circle_and_partial_overlap():
    found = find_loops([("c", Circle((0, 0), 1)), ("d", Circle((0, 0), 1))])
    assert len(found.loops) == 1
    assert found.strays == ("d",)
    assert found.overlaps[0].pieces == (Circle((0, 0), 1),)
    partly = find_loops([*SQUARE, ("x", Line((2.0, 0.0), (7.0, 0.0)))])
    assert partly.overlaps[0][:2] == ("a0", "x")
    assert partly.overlaps[0].pieces[0].length == pytest.approx(5.0)
    round_part = find_loops([("c", Circle((0, 0), 1)), ("d", Arc((0, 0), (1, 0), (0, 1)))])
    assert round_part.overlaps[0].pieces[0].length == pytest.approx(pi / 2)


def test_self_crossing_outline():
    bow = [(0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 8.0)]
    found = find_loops([(str(k), Line(bow[k], bow[(k + 1) % 4])) for k in range(4)])
    assert len(found.loops) == 1
    ((a, b, point, kind),) = found.crossings
    assert (a, b, kind) == ("0", "2", "crossing")
    assert point == pytest.approx((40 / 9, 40 / 9))


def test_loops_that_cross_touch_or_end_on_each_other():
    found = find_loops([*SQUARE, ("c", Circle((10.0, 5.0), 1.0)), ("d", Circle((5.0, 1.0), 1.0)),
                        ("e", Line((0.0, 7.0), (3.0, 7.0)))])
    kinds = sorted((c.a, c.b, c.kind) for c in found.crossings)
    assert kinds == [("a0", "d", "touch"), ("a1", "c", "crossing"), ("a1", "c", "crossing"),
                     ("a3", "e", "end")]


def test_specks():
    found = find_loops([*SQUARE, ("x", Line((5.0, 5.0), (5.0, 5.0)))])
    assert found.specks == ("x",)
    assert len(found.loops) == 1
    assert not found.sound


def test_copies_are_named_with_the_first_and_looked_at_no_further():
    ring = [(f"c{k}", Circle((5.0, 5.0), 2.0)) for k in range(40)]
    found = find_loops([*SQUARE, *ring, ("x", Line((5.0, 7.0), (5.0, 9.0)))])
    assert found.copies == {f"c{k}": "c0" for k in range(1, 40)}
    assert [(o.a, o.b) for o in found.overlaps] == [("c0", f"c{k}") for k in range(1, 40)]
    assert [(c.a, c.b) for c in found.crossings] == [("c0", "x")]
    assert not found.more


@pytest.mark.parametrize("count", [200, 3000])
def test_outlines_that_cross_by_the_thousand_are_named_up_to_a_limit(count, monkeypatch):
    portions = []
    monkeypatch.setattr(loops, "meetings", lambda table, tol: (
        portions.append(1) or met for met in meetings(table, tol)))
    big = [Line((-50.0, -50.0), (50.0, -50.0)), Line((50.0, -50.0), (50.0, 50.0)),
           Line((50.0, 50.0), (-50.0, 50.0)), Line((-50.0, 50.0), (-50.0, -50.0))]
    rings = [(f"c{k}", Circle((0.01 * k, 0.0), 5.0)) for k in range(count)]
    found = find_loops([*((f"b{k}", line) for k, line in enumerate(big)), *rings])
    assert found.more
    assert len(found.crossings) == MOST
    depth = {loop.ids[0]: loop.depth for loop in found.loops}
    assert min(depth.values()) == 0
    assert all(depth[name] >= 1 for name, _ in rings)
    assert len(portions) == 1  # of the millions of pairs of 3000 circles only the first are asked


def test_nothing():
    found = find_loops([])
    assert found.loops == ()
    assert not found.sound


@pytest.mark.parametrize("seed", range(20))
def test_random_blobs_with_holes(seed):
    rng = random.Random(seed)
    items, expected = [], 0.0
    for k in range(rng.randint(1, 4)):
        cx, radius, n = 30.0 * k, rng.uniform(5.0, 10.0), rng.randint(3, 9)
        corners = [(cx + radius * cos(tau * i / n), radius * sin(tau * i / n)) for i in range(n)]
        for i in range(n):
            a, b = corners[i], corners[(i + 1) % n]
            if rng.random() < 0.5:
                items.append((f"{k}.{i}", Line(a, b)))
                expected += radius**2 * sin(tau / n) / 2
            else:
                items.append((f"{k}.{i}", Arc((cx, 0.0), a, b)))
                expected += radius**2 * pi / n
        hole = radius * cos(pi / n) * rng.uniform(0.2, 0.8)
        items.append((f"{k}.h", Circle((cx, 0.0), hole)))
        expected -= pi * hole**2
    rng.shuffle(items)
    items = [(i, reversed_curve(c) if rng.random() < 0.5 else c) for i, c in items]
    found = find_loops(items)
    assert found.sound
    assert found.moments.area == pytest.approx(expected)


def grid(rows, columns, x=0.0):
    return [*((f"r{k}", Line((x, k), (x + columns + 1.0, k))) for k in range(1, rows + 1)),
            *((f"s{k}", Line((x + k, 0.0), (x + k, rows + 1.0))) for k in range(1, columns + 1))]


def test_a_thousand_crossings_are_named_and_more_are_told():
    few, many = find_loops(grid(30, 33)), find_loops(grid(40, 40))
    assert (len(few.crossings), few.more) == (990, False)
    assert (len(many.crossings), many.more) == (1000, True)


def test_beside_a_thousand_crossings_only_the_largest_loops_hold_others():
    # 300 squares in a row, each a little smaller than the one before, two with a hole in them.
    squares = [item for k in range(300)
               for item in box(20.0 * k, 100.0, 20.0 * k + 19.0 - 0.01 * k, 119.0, f"q{k}_")]
    holes = [(f"h{k}", Circle((20.0 * k + 5.0, 105.0), 1.0)) for k in (150, 250)]
    found = find_loops([*squares, *holes, *grid(40, 40)])
    assert found.more
    depth = {loop.ids[0]: loop.depth for loop in found.loops if loop.ids[0].startswith("h")}
    assert depth == {"h150": 1, "h250": 0}
    depth = {loop.ids[0]: loop.depth for loop in find_loops([*squares, *holes]).loops
             if loop.ids[0].startswith("h")}
    assert depth == {"h150": 1, "h250": 1}
