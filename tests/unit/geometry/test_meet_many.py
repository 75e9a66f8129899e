"""The columns say the same as the pair by pair function."""

from __future__ import annotations

import random
from itertools import combinations
from math import cos, sin

import numpy as np
import pytest

from sketcher.geometry.bounds import tolerance
from sketcher.geometry.curve_table import CurveTable, pairs, pairs_between, portions
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.meet import meet, overlap
from sketcher.geometry.meet_many import meet_all, meet_pairs, meetings_between, same_carrier


def random_curves(seed, count):
    """Lines, arcs and circles on a coarse grid, so that touches and shared ends are common."""
    rng = random.Random(seed)

    def at():
        return (float(rng.randint(-12, 12)), float(rng.randint(-12, 12)))

    curves = []
    while len(curves) < count:
        kind = rng.choice("lllaac")
        if kind == "l":
            p, q = at(), at()
            if p != q:
                curves.append(Line(p, q))
        elif kind == "a":
            (cx, cy), r = at(), float(rng.randint(1, 8))
            first, last = rng.sample([(r, 0.0), (0.0, r), (-r, 0.0), (0.0, -r)], 2)
            if rng.random() < 0.3:
                a = rng.uniform(0.1, 6.0)
                last = (r * cos(a), r * sin(a))
            ends = [(cx + x, cy + y) for x, y in (first, last)]
            curves.append(Arc((cx, cy), *ends, ccw=rng.random() < 0.5))
        else:
            curves.append(Circle(at(), float(rng.randint(1, 8))))
    return curves


@pytest.mark.parametrize("seed", range(12))
def test_same_as_pair_by_pair(seed):
    curves = random_curves(seed, 40)
    tol = tolerance(curves)
    found = meet_all(CurveTable(curves), tol)
    many = {}
    for a, b, point, ta, tb, touch, shared in zip(*found, strict=True):
        if not (shared and overlap(curves[a], curves[b], tol)):
            many.setdefault((int(a), int(b)), []).append((ta, tb, touch, tuple(point)))
    for i, j in combinations(range(len(curves)), 2):
        one = sorted(meet(curves[i], curves[j], tol=tol), key=lambda m: m.a)
        other = sorted(many.get((i, j), []))
        assert len(one) == len(other), (curves[i], curves[j])
        for m, (ta, tb, touch, point) in zip(one, other, strict=True):
            assert m.point == pytest.approx(point, abs=1e-9)
            for t, u, curve in ((m.a, ta, curves[i]), (m.b, tb, curves[j])):
                if isinstance(curve, Circle):
                    assert abs((t - u + 0.5) % 1.0 - 0.5) < 1e-9
                else:
                    assert (t in (0.0, 1.0)) == (u in (0.0, 1.0))
                    assert abs(t - u) < 1e-9
            assert (m.kind == "touch") == touch


def test_box_pairs_are_those_that_overlap():
    curves = random_curves(99, 60)
    boxes = CurveTable(curves).boxes
    i, j = pairs(boxes, 0.25)
    expected = {
        (a, b)
        for a, b in combinations(range(60), 2)
        if np.all(boxes[a, :2] <= boxes[b, 2:] + 0.25)
        and np.all(boxes[b, :2] <= boxes[a, 2:] + 0.25)
    }
    assert set(zip(i.tolist(), j.tolist(), strict=True)) == expected
    assert pairs(boxes[:0], 0.1)[0].shape == (0,)


def test_box_pairs_come_by_left_sides_however_they_are_found():
    rng = np.random.default_rng(5)
    for spread in ((1.0, 900.0), (900.0, 1.0), (30.0, 30.0)):
        low = np.round(rng.uniform(0.0, 1.0, (200, 2)) * spread)
        boxes = np.concatenate((low, low + rng.uniform(0.0, 2.0, (200, 2))), axis=1)
        rank = np.argsort(np.argsort(boxes[:, 0], kind="stable"), kind="stable")
        i, j = pairs(boxes, 1.0)
        by_left = np.stack((np.minimum(rank[i], rank[j]), np.maximum(rank[i], rank[j])))
        assert np.array_equal(np.lexsort(by_left[::-1]), np.arange(len(i)))
        apart = np.maximum(boxes[:, None, :2] - boxes[None, :, 2:],
                           boxes[None, :, :2] - boxes[:, None, 2:]).max(axis=2)
        assert len(i) == np.count_nonzero(np.triu(apart <= 1.0, 1))


def test_pairs_between_two_sets_are_those_that_come_near():
    ones, others = (CurveTable(random_curves(seed, 40)).boxes for seed in (3, 4))
    others = np.concatenate((others, ones[:5]))  # some begin at one place
    found = np.zeros((len(ones), len(others)), int)
    for i, j in pairs_between(ones, others, 0.3):
        np.add.at(found, (i, j), 1)
    apart = np.maximum(ones[:, None, :2] - others[None, :, 2:],
                       others[None, :, :2] - ones[:, None, 2:]).max(axis=2)
    assert np.array_equal(found, (apart <= 0.3).astype(int))


def test_the_first_curves_with_the_others():
    table = CurveTable(random_curves(5, 40))
    every = meet_all(table, 1e-9)
    kept = (np.minimum(every.a, every.b) < 15) & (np.maximum(every.a, every.b) >= 15)
    between = list(meetings_between(table, 15, 1e-9))
    assert all((met.a < 15).all() and (met.b >= 15).all() for met in between)
    rows = [np.concatenate([np.column_stack((m.a, m.b, m.point.round(9))) for m in some])
            for some in (between, [every])]
    rows[1] = rows[1][kept]
    assert len(rows[0]) > 50
    assert np.array_equal(*(row[np.lexsort(row.T)] for row in rows))


def test_work_comes_in_portions():
    count = np.array([3, 0, 5, 9, 1, 1, 0])
    runs = list(portions(count, 6))
    assert [list(run) for run in runs] == [[0, 1], [2], [3], [4, 5, 6]]
    assert list(portions(count[:0])) == []


def test_carriers_and_nothing_at_all():
    curves = [
        Line((0, 0), (5, 0)), Line((9, 0), (7, 0)), Line((0, 1), (5, 1)),
        Circle((0, 0), 2), Arc((0, 0), (2, 0), (0, 2)), Circle((0, 0), 3),
    ]
    table = CurveTable(curves)
    i, j = (np.array(c) for c in zip(*combinations(range(6), 2), strict=True))
    same = same_carrier(table, i, j, 1e-9)
    assert [(a, b) for a, b, s in zip(i, j, same, strict=True) if s] == [(0, 1), (3, 4)]
    assert len(meet_all(CurveTable([]), 1e-9).a) == 0
    assert len(meet_pairs(table, np.array([0]), np.array([2]), 1e-9).a) == 0


@pytest.mark.parametrize("center", [(0.0, 0.0), (50.0, 30.0), (-7.0, 0.25)])
@pytest.mark.parametrize("turned", [False, True])
def test_arcs_of_one_circle_share_it_wherever_it_lies(center, turned):
    def arc(begin, end, radius=6.0, about=center):
        ends = [(about[0] + radius * cos(t), about[1] + radius * sin(t)) for t in (begin, end)]
        return Arc(about, *(ends[::-1] if turned else ends), ccw=not turned)

    beside = (center[0] + 1.0, center[1])
    curves = [arc(0.0, 1.5), arc(1.0, 2.5), arc(1.0, 2.5, 6.5), arc(0.2, 1.0, 6.0, beside)]
    table = CurveTable(curves)
    others = np.array([1, 2, 3])
    assert same_carrier(table, np.zeros(3, int), others, 1e-9).tolist() == [True, False, False]
    met = meet_all(table, 1e-9)
    shared = {(a, b) for a, b, on in zip(met.a, met.b, met.shared, strict=True) if on}
    assert shared == {(0, 1)}
    (common,) = overlap(curves[0], curves[1], 1e-9)
    assert common.length == pytest.approx(0.5 * 6.0)
