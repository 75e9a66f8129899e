"""Narrowest places and tangency between two curves, against shapely and against the definition."""

from __future__ import annotations

from math import acos, cos, dist, hypot, pi, radians, sin
from random import Random

import numpy as np
import pytest
import shapely

from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import point_at
from sketcher.inspect import tangency
from sketcher.inspect.clearance import narrowest

CHORDS = 2000
"""Chords a curve for shapely; radii stay below 20, so the chords miss less than 1e-4."""


def random_curve(random: Random, at: float) -> Curve:
    """A line, an arc or a circle about `at` on the level axis."""
    kind = random.choice(("line", "arc", "arc", "circle"))
    x, y = at + random.uniform(-6, 6), random.uniform(-12, 12)
    if kind == "line":
        turn, size = random.uniform(0, 2 * pi), random.uniform(1, 20)
        return Line((x, y), (x + size * cos(turn), y + size * sin(turn)))
    radius, begin = random.uniform(0.5, 12), random.uniform(0, 2 * pi)
    if kind == "circle":
        return Circle((x, y), radius)
    end = begin + random.uniform(0.2, 6.0)
    ends = [(x + radius * cos(t), y + radius * sin(t)) for t in (begin, end)]
    return Arc((x, y), ends[0], ends[1], True) if random.random() < 0.5 else Arc(
        (x, y), ends[1], ends[0], False)


def chain(curve: Curve) -> shapely.LineString:
    return shapely.LineString([point_at(curve, t) for t in np.linspace(0.0, 1.0, CHORDS)])


@pytest.mark.parametrize("seed", range(60))
def test_the_narrowest_place_is_where_shapely_finds_it(seed: int) -> None:
    random = Random(seed)
    a, b = random_curve(random, 0.0), random_curve(random, random.choice((4.0, 18.0, 40.0)))
    found = narrowest(a, b)
    want = shapely.distance(chain(a), chain(b))
    assert found.width == pytest.approx(want, abs=2e-3)
    assert found.width <= want + 1e-9  # the chords of one may lie nearer, never those of both
    assert dist(point_at(a, found.a), found.on_a) < 1e-9
    assert dist(point_at(b, found.b), found.on_b) < 1e-9
    assert dist(found.on_a, found.on_b) == pytest.approx(found.width, abs=1e-9)
    assert dist(found.middle, found.on_a) == pytest.approx(dist(found.middle, found.on_b))
    if found.width > 1e-3:
        again = narrowest(a, b, apart=True)
        assert again.width == pytest.approx(found.width, abs=1e-12)


def test_parallel_lines_are_narrow_amid_what_they_see_of_each_other() -> None:
    a = Line((10.0, 5.0), (30.0, 5.0))
    for b, x in ((Line((20.0, 8.0), (50.0, 8.0)), 25.0), (Line((26.0, 2.0), (4.0, 2.0)), 18.0),
                 (Line((0.0, 8.0), (60.0, 8.0)), 20.0), (Line((14.0, 2.0), (18.0, 2.0)), 16.0)):
        for one, other in ((a, b), (b, a)):
            found = narrowest(one, other)
            assert found.width == pytest.approx(3.0)
            assert found.middle[0] == pytest.approx(x)
    slanted = narrowest(Line((0, 0), (4, 3)), Line((-3, 4), (1, 7)))  # 5 apart, side by side
    assert slanted.width == pytest.approx(5.0)
    assert slanted.middle == pytest.approx((0.5, 3.5))


def test_concentric_circles_are_as_far_apart_as_their_radii() -> None:
    found = narrowest(Circle((3.0, 4.0), 5.0), Circle((3.0, 4.0), 8.0))
    assert found.width == pytest.approx(3.0)
    assert dist(found.on_a, (3.0, 4.0)) == pytest.approx(5.0)


# Tangency by its definition: how far the carriers miss, and how they cross.


def normal_at(curve: Curve, at: tuple[float, float]) -> tuple[float, float]:
    if isinstance(curve, Line):
        return (-curve.direction[1], curve.direction[0])
    size = dist(at, curve.center)
    return ((at[0] - curve.center[0]) / size, (at[1] - curve.center[1]) / size)


@pytest.mark.parametrize("seed", range(40))
def test_the_angle_is_that_between_the_normals_where_the_carriers_cross(seed: int) -> None:
    random = Random(seed)
    x, y = random.uniform(-9, 9), random.uniform(-9, 9)  # where both pass through
    curves: list[Curve] = []
    for kind in random.choice((("line", "round"), ("round", "round"), ("line", "line"))):
        turn, radius = random.uniform(0, 2 * pi), random.uniform(1, 15)
        if kind == "line":
            curves.append(Line((x - 3 * cos(turn), y - 3 * sin(turn)),
                               (x + 5 * cos(turn), y + 5 * sin(turn))))
        else:
            curves.append(Circle((x + radius * cos(turn), y + radius * sin(turn)), radius))
    (ax, ay), (bx, by) = (normal_at(curve, (x, y)) for curve in curves)
    want = acos(min(1.0, abs(ax * bx + ay * by)))
    a, b = curves
    assert tangency.angle(a, b) == pytest.approx(want, abs=1e-6)
    assert tangency.angle(b, a) == pytest.approx(want, abs=1e-6)


def test_the_residual_is_the_width_left_or_the_depth_shared() -> None:
    line, high = Line((-50.0, 3.0), (50.0, 3.0)), Circle((7.0, 10.0), 5.0)
    low = Circle((7.0, 10.0), 9.0)
    for a, b, want in (
        (line, high, 2.0), (line, low, -2.0), (high, low, 4.0),
        (Circle((0, 0), 5.0), Circle((12, 0), 4.0), 3.0),  # apart
        (Circle((0, 0), 5.0), Circle((8, 0), 4.0), -1.0),  # sharing a lens of 1
        (Circle((0, 0), 9.0), Circle((4, 0), 2.0), 3.0),  # one within the other
        (Circle((0, 0), 9.0), Circle((7.5, 0), 2.0), -0.5),
        (Line((0, 0), (100, 0)), Line((10, 0.5), (20, -0.25)), 0.5),
    ):
        assert tangency.residual(a, b) == pytest.approx(want)
        assert tangency.residual(b, a) == pytest.approx(want)


def test_the_place_is_amid_the_narrowest_place() -> None:
    line = Line((-20.0, 3.0), (50.0, 3.0))
    for a, b, want in (
        (line, Circle((7.0, 10.0), 5.0), (7.0, 4.0)), (line, Circle((7.0, 1.0), 1.0), (7.0, 2.5)),
        (Circle((0, 0), 5.0), Circle((12, 0), 4.0), (6.5, 0.0)),
        (Circle((0, 0), 9.0), Circle((0, 4), 2.0), (0.0, 7.5)),
        (Circle((1, 1), 2.0), Circle((1, 1), 4.0), (4.0, 1.0)),
        (line, Circle((7.0, 3.0), 1.0), (7.0, 3.0)),
    ):
        assert tangency.place(a, b) == pytest.approx(want)
        assert tangency.place(b, a) == pytest.approx(want)
    corner = tangency.place(Line((0, 0), (10, 0)), Line((30, 9), (10.5, 0.25)))
    assert corner == (10.5, 0.25)
    assert tangency.place(Line((0, 0), (10, 0)), Line((10.5, 0.25), (30, 9))) == (10.5, 0.25)


def test_slanted_lines_and_far_places_measure_the_same() -> None:
    turn = radians(33.0)

    def moved(p: tuple[float, float]) -> tuple[float, float]:
        x, y = p
        return (100 + x * cos(turn) - y * sin(turn), -70 + x * sin(turn) + y * cos(turn))

    a, b = Line((0, 0), (40, 0)), Line((3, 0.125), (10, -0.25))
    one, other = (Line(moved(c.start), moved(c.end)) for c in (a, b))
    assert tangency.residual(one, other) == pytest.approx(0.25)
    assert tangency.residual(one, Circle(moved((20, 7)), 5.0)) == pytest.approx(2.0)
    assert tangency.place(one, Circle(moved((20, 7)), 5.0)) == pytest.approx(moved((20, 1.0)))
    assert hypot(*normal_at(one, one.start)) == pytest.approx(1.0)
