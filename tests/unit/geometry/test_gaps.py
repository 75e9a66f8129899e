"""Ends that nearly meet."""

from __future__ import annotations

import pytest

from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.near_misses import near_misses


def test_gap_between_two_ends():
    (miss,) = near_misses([
        ("a", Line((0, 0), (10, 0))), ("b", Line((10, 0.05), (10, 10))),
        ("c", Line((10, 10), (0, 0))),
    ])
    assert (miss.kind, miss.a, miss.b, miss.ends) == ("gap", "a", "b", True)
    assert miss.size == pytest.approx(0.05)
    assert (miss.at, miss.to) == ((10, 0), (10, 0.05))


def test_gap_between_an_end_and_the_inside_of_a_curve():
    (miss,) = near_misses([
        ("a", Line((0, 0), (10, 0))), ("b", Line((4, 0.03), (4, 8))),
        ("c", Arc((7, 8), (4, 8), (10, 8), ccw=False)), ("d", Line((10, 8), (10, 0))),
    ], reach=0.1)
    assert (miss.kind, miss.a, miss.b, miss.ends) == ("gap", "b", "a", False)
    assert miss.to == pytest.approx((4, 0))


def test_overrun():
    found = near_misses([
        ("a", Line((0, 0), (10.04, 0))), ("b", Line((10, 0), (10, 10))),
    ], reach=0.1)
    (miss,) = (m for m in found if m.kind == "overrun")
    assert (miss.a, miss.b) == ("a", "b")
    assert miss.size == pytest.approx(0.04)
    assert miss.to == pytest.approx((10, 0))
    # Past an arc: the end stands 0.03 outside a circle of radius 5 about (10, 5).
    bow = Arc((10, 5), (10, 0), (15, 5))
    found = near_misses([("a", Line((10, 5), (13.018, 0.976))), ("r", bow)], reach=0.1)
    (miss,) = (m for m in found if m.kind == "overrun")
    assert miss.size == pytest.approx(0.03, abs=1e-6)
    assert miss.to == pytest.approx((13, 1), abs=1e-6)


def test_nothing_where_everything_meets_or_is_far():
    square = [("a", Line((0, 0), (1, 0))), ("b", Line((1, 0), (1, 1))), ("c", Line((1, 1), (0, 0)))]
    assert near_misses(square) == ()
    assert near_misses([("a", Line((0, 0), (1, 0))), ("b", Line((5, 0), (6, 0)))]) == ()
    assert near_misses([("a", Circle((0, 0), 1))]) == ()
    assert near_misses([]) == ()


def test_end_on_a_curve_is_no_gap():
    assert near_misses([("a", Line((0, 0), (10, 0))), ("b", Line((4, 0), (4, 8)))]) == ()


def test_widest_comes_last():
    found = near_misses([
        ("a", Line((0, 0), (10, 0))), ("b", Line((10.02, 0), (10, 10))),
        ("c", Line((10, 10.05), (0, 9))),
    ], reach=0.2)
    assert [round(m.size, 9) for m in found] == [0.02, 0.05]


@pytest.mark.parametrize(("gap", "meant"), [(1.5, True), (2.5, False)])
def test_ends_within_a_hundredth_of_the_size_are_meant_to_meet(gap, meant):
    found = near_misses([("a", Line((0.0, 0.0), (100.0, 0.0))),
                         ("b", Line((100.0 + gap, 0.0), (200.0, 0.0)))])
    assert [miss.size for miss in found] == ([pytest.approx(gap)] if meant else [])
