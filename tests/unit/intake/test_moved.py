"""The largest move, against shapely's Hausdorff distance between fine chords."""

from __future__ import annotations

import random
from itertools import pairwise
from math import cos, hypot, pi, sin
from time import perf_counter

import numpy as np
import pytest
from shapely import MultiLineString, hausdorff_distance

from sketcher.geometry.curve_table import CurveTable
from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import point_at
from sketcher.geometry.vicinity import Vicinity
from sketcher.intake.linework import PlaceInFile
from sketcher.intake.moved import in_file, largest_move
from tests.chords import facet
from tests.drawn import lines_through
from tests.seldom import some_of

SQUARE = lines_through((0, 0), (10, 0), (10, 10), (0, 10))


def by_shapely(ones: list[Curve], others: list[Curve], sagitta: float) -> float:
    """Hausdorff distance of chords, each cut into short pieces; off by the sagitta twice."""
    drawn = []
    for curves in (ones, others):
        strings = []
        for curve in curves:
            places = facet(curve, sagitta)
            fine = [places[0]]
            for p, q in pairwise(places):
                steps = max(1, int(hypot(*(q - p)) / 0.02))
                fine += [p + (q - p) * k / steps for k in range(1, steps + 1)]
            strings.append(np.array(fine))
        drawn.append(MultiLineString(strings))
    return float(hausdorff_distance(*drawn))


def test_what_did_not_move_is_told_to_a_billionth_of_the_size() -> None:
    assert 0.0 <= largest_move(SQUARE, SQUARE) <= 2e-8
    assert largest_move([], SQUARE) == 0.0


@pytest.mark.parametrize(("after", "move"), [
    (lines_through((0, 0), (10, 0.3), (10, 10), (0, 10)), 3 / hypot(10, 0.3)),
    (lines_through((0, 0), (10.2, 0), (10.2, 10), (0, 10)), 0.2),
    # A tail of 2 and a missing edge: half of it is 5 away from the rest.
    ([*SQUARE, Line((10, 10), (12, 10))], 2.0),
    (SQUARE[:3], 5.0),
])
def test_lines_that_moved(after: list[Curve], move: float) -> None:
    for ones, others in ((SQUARE, after), (after, SQUARE)):
        assert move <= largest_move(ones, others) <= 1.0011 * move


@pytest.mark.parametrize("chords", [1, 3, 8])
def test_chords_leave_their_arc_by_the_sagitta(chords: int) -> None:
    """r (1 - cos(sweep / 2)), from the circle's equation."""
    sweep = 0.5 * pi
    places = [(5 * cos(k * sweep / chords), 5 * sin(k * sweep / chords)) for k in range(chords + 1)]
    sagitta = 5 * (1 - cos(0.5 * sweep / chords))
    found = largest_move(lines_through(*places, close=False), [Arc((0, 0), places[0], places[-1])])
    assert sagitta <= found <= 1.0011 * sagitta


@pytest.mark.parametrize(("after", "move"), [
    (Circle((0, 0), 5.1), 0.1), (Circle((0.1, 0), 5), 0.1), (Circle((0.1, 0), 5.1), 0.2)])
def test_circles_that_moved_and_grew(after: Circle, move: float) -> None:
    found = largest_move([Circle((0, 0), 5)], [after])
    assert move * (1 - 1e-12) <= found <= 1.0011 * move


@pytest.mark.parametrize("seed", some_of(range(12), lambda seed: seed == 3))
def test_random_curves_against_shapely(seed: int) -> None:
    pick = random.Random(seed)

    def some() -> list[Curve]:
        curves: list[Curve] = []
        for _ in range(6):
            x, y, r, a = (pick.uniform(0, 10) for _ in range(4))
            b = a + pick.uniform(0.3, 5.9)
            curves += [
                Line((x, y), (pick.uniform(0, 10), pick.uniform(0, 10))),
                Circle((y, x), 0.3 * r),
                Arc((x, r), (x + y * cos(a), r + y * sin(a)), (x + y * cos(b), r + y * sin(b)),
                    pick.random() < 0.5)]
        return curves

    ones, others = some(), some()
    want = by_shapely(ones, others, 1e-4)
    # The chords leave the curves by 1e-4 on either side; shapely looks at places 0.02 apart.
    assert want - 2e-4 <= largest_move(ones, others) <= 1.0011 * (want + 0.0102)


def test_the_place_in_the_file_is_turned_then_moved() -> None:
    place = PlaceInFile(0.5 * pi, (100.0, 50.0))
    line, arc, ring = (in_file(curve, place) for curve in (
        Line((1, 0), (0, 2)), Arc((0, 0), (3, 0), (0, 3)), Circle((1, 1), 2)))
    assert isinstance(line, Line)
    assert line.start == pytest.approx((100, 51))
    assert line.end == pytest.approx((98, 50))
    assert isinstance(arc, Arc)
    assert point_at(arc, 0.5) == pytest.approx((100 - 3 * sin(pi / 4), 50 + 3 * cos(pi / 4)))
    assert isinstance(ring, Circle)
    assert ring.center == pytest.approx((99, 51))


def test_the_nearest_of_many_curves_is_the_nearest_of_all() -> None:
    pick = random.Random(8)
    curves: list[Curve] = [Circle((pick.uniform(0, 99), pick.uniform(0, 99)), pick.uniform(1, 20))
                           for _ in range(60)]
    curves += [Line((k, 0), (100 - k, 30)) for k in range(40)]
    table = CurveTable(curves)
    places = np.array([[pick.uniform(-10, 110), pick.uniform(-10, 110)] for _ in range(700)])
    curve, distance = Vicinity(table).nearest(places)
    everything = table.distances_to_all(places)
    assert distance == pytest.approx(everything.min(axis=1), abs=1e-12)
    assert (everything[np.arange(700), curve] == distance).all()
    with pytest.raises(ValueError, match="no curve"):
        Vicinity(CurveTable([])).nearest(places)


def test_two_thousand_curves_take_seconds() -> None:
    pick = random.Random(8)
    before: list[Curve] = []
    after: list[Curve] = []
    for k in range(500):
        x, y = 30 * (k % 25), 30 * (k // 25)
        before += lines_through((x, y), (x + 20, y), (x + 20, y + 20), (x, y + 20))
        after += lines_through(*((x + a + pick.uniform(-1e-3, 1e-3), y + b)
                                 for a, b in ((0, 0), (20, 0), (20, 20), (0, 20))))
    began = perf_counter()
    assert 9e-4 < largest_move(before, after) < 1.01e-3
    assert perf_counter() - began < 20.0  # 1 s on two slow cores
