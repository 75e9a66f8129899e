"""Necks of the plate, against every pair of curves asked by itself."""

from __future__ import annotations

import itertools
from math import cos, hypot, pi, radians, sin, tan

import numpy as np
import pytest

from sketcher.geometry.curve_table import CurveTable
from sketcher.geometry.evaluate import point_at
from sketcher.inspect.clearance import narrowest
from sketcher.inspect.facing import facing
from sketcher.inspect.necks import Neck, find_necks
from sketcher.inspect.profile import Contour
from sketcher.part.value import GridPattern, Part, PolarPattern, frozen
from tests.plates import looked_at, plate, polygon, rectangle
from tests.seldom import some_of

SHARES = np.linspace(0.0, 1.0, 121)


def swarm(seed: int) -> tuple[Contour, ...]:
    """Contours of a plate with round, square and slot-shaped holes, close to each other."""
    rng = np.random.default_rng(seed)
    points, curves = rectangle(100.0, 60.0)
    kept: list[tuple[float, float, float]] = []
    for k in range(36):
        r = rng.uniform(0.5, 4.0)
        x, y = rng.uniform(r + 0.5, 100.0 - r - 0.5), rng.uniform(r + 0.5, 60.0 - r - 0.5)
        if any(hypot(x - a, y - b) < 1.5 * (r + c) for a, b, c in kept):
            continue
        kept.append((x, y, r))
        if k % 3 == 0:
            points[f"c{k}"] = (x, y)
            curves[f"h{k}"] = ("c" + str(k), r)
        elif k % 3 == 1:
            turn = rng.uniform(0.0, pi)
            corners = [(x + r * cos(turn + q * pi / 2), y + r * sin(turn + q * pi / 2))
                       for q in range(4)]
            more, lines = polygon(*corners, prefix=f"s{k}")
            points |= more
            curves |= lines
        else:
            half = 0.6 * r
            points |= {f"a{k}": (x - half, y - 0.5 * r), f"b{k}": (x + half, y - 0.5 * r),
                       f"d{k}": (x + half, y + 0.5 * r), f"e{k}": (x - half, y + 0.5 * r),
                       f"m{k}": (x + half, y), f"n{k}": (x - half, y)}
            curves |= {f"l{k}": (f"a{k}", f"b{k}"), f"t{k}": (f"b{k}", f"d{k}", f"m{k}", "ccw"),
                       f"o{k}": (f"d{k}", f"e{k}"), f"u{k}": (f"e{k}", f"a{k}", f"n{k}", "ccw")}
    profile = looked_at(plate(points, curves)).profile
    assert not profile.crossings
    return profile.plate


def widths(contours: tuple[Contour, ...]) -> dict[tuple[int, int], float]:
    """Least distance of every two contours, each pair of their curves asked by itself."""
    return {
        (i, j): min(narrowest(a, b).width for a in contours[i].shapes for b in contours[j].shapes)
        for i, j in itertools.combinations(range(len(contours)), 2)
    }


@pytest.mark.parametrize("seed", range(4))
def test_two_contours_have_a_neck_where_no_hole_comes_into_the_circle_across(seed: int) -> None:
    """Against points along all curves: a circle that has one well inside is no neck's."""
    contours = swarm(seed)
    least = widths(contours)
    rim = {k: np.array([point_at(c, t) for c in contour.shapes for t in SHARES])
           for k, contour in enumerate(contours) if contour.hole}
    told = {tuple(sorted(neck.contours)): neck for neck in find_necks(contours, 12.0, True)
            if len(set(neck.contours)) == 2}
    for pair, neck in told.items():
        assert neck.place.width >= least[pair] - 1e-9
        x, y = neck.place.middle
        reach = min(float(np.hypot(*(at - (x, y)).T).min()) for k, at in rim.items()
                    if k not in pair) if len(rim) > 2 else 1e9
        assert reach >= 0.5 * neck.place.width - 1e-6
    for pair, width in least.items():
        if width > 12.0 or pair in told:
            continue
        # Left out: by two narrower ways over some third hole one comes from one to the other.
        assert any(max(least[min(pair[0], k), max(pair[0], k)],
                       least[min(pair[1], k), max(pair[1], k)]) < width
                   for k in rim if k not in pair)


@pytest.mark.parametrize("seed", some_of(range(4), lambda seed: seed < 2))
@pytest.mark.parametrize("limit", [1.0, 3.0, 9.0])
def test_no_neck_is_told_below_a_width_only_where_there_is_none(seed: int, limit: float) -> None:
    contours = swarm(seed)
    told = [neck.place.width for neck in find_necks(contours, limit, True)
            if len(set(neck.contours)) == 2]
    below = [width for width in widths(contours).values() if width <= limit]
    assert bool(told) == bool(below)
    assert not told or min(told) == pytest.approx(min(below), abs=1e-9)


def webs(part: Part, within: float) -> list[Neck]:
    """Necks between two holes."""
    contours = looked_at(part).profile.plate
    return [neck for neck in find_necks(contours, within, True)
            if all(contours[number].hole for number in neck.contours)]


def perforated(rows: int, gap: float = 2.0) -> Part:
    """Plate with a grid of rows by rows holes of 3 mm, all within reach of many others."""
    step = 3.0 + gap
    points, lines = rectangle(step * rows + 20.0, step * rows + 20.0)
    pattern = GridPattern(("h",), (repr(step), repr(step)), (rows, rows))
    return plate({**points, "c": (12.0, 12.0)}, {**lines, "h": ("c", 1.5)},
                 patterns=frozen({"n": pattern}), thickness=20.0)


def test_a_grid_of_holes_has_the_webs_beside_each_other_and_no_more() -> None:
    rows = 7
    found = webs(perforated(rows), 40.0)
    assert len(found) == 2 * rows * (rows - 1)
    assert [neck.place.width for neck in found] == pytest.approx([2.0] * len(found))
    assert all(neck.material for neck in found)


def test_a_ring_of_holes_has_a_web_to_each_neighbour() -> None:
    points, lines = rectangle(100.0, 100.0)
    pattern = PolarPattern(("h",), "o", 24, "360")
    part = plate({**points, "o": (50.0, 50.0), "c": (75.0, 50.0)}, {**lines, "h": ("c", 2.5)},
                 patterns=frozen({"n": pattern}), thickness=30.0)
    found = sorted(neck.place.width for neck in webs(part, 60.0))
    assert found[:24] == pytest.approx([50.0 * sin(pi / 24) - 5.0] * 24)
    # Those that face each other straight across the middle touch one circle: no web either.
    assert len(found) == 24


def test_pairs_asked_grow_with_the_holes() -> None:
    """All holes are within reach of each other; still only those around each one are asked."""
    asked = {}
    for rows in (8, 24):
        contours = looked_at(perforated(rows)).profile.plate
        edges = [(number, curve) for number, c in enumerate(contours) for curve in c.shapes]
        owner = np.array([number for number, _ in edges])
        holes = np.array([contours[number].hole for number, _ in edges])
        i, _ = facing(CurveTable([curve for _, curve in edges]), owner, holes, 40.0)
        asked[rows] = len(i)
    assert asked[24] <= 1.5 * 9.0 * asked[8]


def notch(depth: float, lean: float) -> tuple[float, ...]:
    """Widths of the necks of a plate with a notch 10 wide at its mouth, wider below by a lean."""
    more = depth * tan(radians(lean))
    points, lines = polygon(
        (0, 0), (100, 0), (100, 60), (55, 60), (55 + more, 60 - depth), (45 - more, 60 - depth),
        (45, 60), (0, 60))
    contours = looked_at(plate(points, lines)).profile.plate
    return tuple(neck.place.width for neck in find_necks(contours, 20.0, True))


@pytest.mark.parametrize(("depth", "told"), [(9.0, 0), (9.5, 1)])
def test_the_way_round_a_neck_is_three_times_as_long(depth: float, told: int) -> None:
    # Down one side, along the bottom and up the other.
    around = 2.0 * depth / cos(radians(5.0)) + 10.0 + 2.0 * depth * tan(radians(5.0))
    assert (around >= 30.0) == bool(told)
    assert 29.0 < around < 31.0
    assert notch(depth, 5.0) == pytest.approx([10.0] * told)


@pytest.mark.parametrize(("lean", "told"), [(1.0, 1), (1.3, 0)])
def test_half_as_long_between_sides_that_are_square_to_the_neck(lean: float, told: int) -> None:
    # A little over one degree is no longer square.
    assert notch(5.0, lean) == pytest.approx([10.0] * told)
