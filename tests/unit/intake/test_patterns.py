"""Patterns of equal holes; `part.instances` tells where a pattern has its copies."""

from __future__ import annotations

import random
from math import cos, dist, pi, sin
from time import perf_counter

import pytest

from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.intake.axes import halved
from sketcher.intake.linework import FoundPattern, HalfShape
from sketcher.intake.patterns import patterned
from sketcher.intake.wishes import Wishes
from sketcher.part.instances import places
from sketcher.part.value import CircleCurve, GridPattern, Part, PolarPattern
from tests.demo_parts import FOLDER
from tests.drawn import lines_through
from tests.turned_drawings import blurred, one_shape, outline_of, turned


def found_in(curves: list[Curve], noise: float = 0.0, axis: str | None = None) -> HalfShape:
    wishes = Wishes(axis=axis)
    return patterned(halved(one_shape(curves, noise), wishes), wishes)


def copies_of(found: FoundPattern) -> list[XY]:
    """Places of all holes of a pattern, as the program itself repeats the seed."""
    assert isinstance(found.seed.curve, Circle)
    points = {"k": found.seed.curve.center, "m": found.center or (0.0, 0.0)}
    pattern = (GridPattern(("h",), (repr(found.step[0]), repr(found.step[1])), found.count,
                           repr(found.angle)) if found.kind == "grid"
               else PolarPattern(("h",), "m", found.count[0], repr(found.step[0])))
    part = Part(points=points, curves={"h": CircleCurve("k", 1.0)}, patterns={"n": pattern})
    return [points["k"], *(place.point(points["k"]) for place in places(part, "n"))]


def assert_is_where_its_members_are(found: FoundPattern, near: float) -> None:
    copies, members = copies_of(found), [each.curve for each in found.members]
    assert len(copies) == len(members)
    for copy, member in zip(copies, members, strict=True):
        assert isinstance(member, Circle)
        assert dist(copy, member.center) <= near


def plate_with(holes: list[Circle], right: float = 100.0) -> list[Curve]:
    """A plate with a slope, so that it has no axis."""
    return [*lines_through((0, 0), (right, 0), (right, 60), (20, 70), (0, 60)), *holes]


def grid(columns: int, rows: int, across: float = 12.0, up: float = 9.0) -> list[Circle]:
    return [Circle((20 + across * i, 12 + up * j), 2.0)
            for j in range(rows) for i in range(columns)]


@pytest.mark.parametrize("noise", [0.0, 1e-6, 1e-4, 1e-2])
@pytest.mark.parametrize("angle", [0.0, 13.0, 27.5, 90.0])
@pytest.mark.parametrize("count", [(2, 2), (3, 1), (1, 4), (5, 3)])
def test_a_filled_grid_is_found_however_it_lies(
    count: tuple[int, int], angle: float, noise: float
) -> None:
    half = found_in(blurred(turned(plate_with(grid(*count)), angle, 1000.0), noise, 2), noise)
    (found,) = half.patterns
    assert sorted(found.count) == sorted(count)
    assert sorted(step for step in found.step if step) == pytest.approx(
        sorted(step for step, n in zip((12.0, 9.0), count, strict=True) if n > 1),
        abs=2.0 * noise + 1e-9)
    assert_is_where_its_members_are(found, 8.0 * noise + 1e-6)
    assert sum(isinstance(chain[0].curve, Circle) for chain in half.kept) == 1
    assert half.kept[-1][0] is found.seed or found.seed in [chain[0] for chain in half.kept]


def test_two_holes_three_out_of_step_and_one_too_large_are_no_pattern() -> None:
    assert found_in(plate_with(grid(2, 1))).patterns == ()
    assert found_in(plate_with([*grid(2, 1), Circle((45, 12), 2.0)])).patterns == ()
    assert found_in(plate_with([*grid(2, 1), Circle((44, 12), 2.1)])).patterns == ()
    assert found_in(plate_with(grid(3, 3)[:8])).patterns == ()


def ring(count: int, radius: float, hole: float, start: float = 0.0) -> list[Circle]:
    return [Circle((45 + radius * cos(start + 2 * pi * k / count),
                    32 + radius * sin(start + 2 * pi * k / count)), hole) for k in range(count)]


@pytest.mark.parametrize("noise", [0.0, 1e-4, 1e-2])
@pytest.mark.parametrize("count", [3, 4, 5, 6, 12])
def test_holes_evenly_about_a_bore_are_a_ring(count: int, noise: float) -> None:
    holes = [*ring(count, 20.0, 2.0, 0.3), Circle((45, 32), 9.0)]
    (found,) = found_in(blurred(plate_with(holes), noise, 4), noise).patterns
    assert (found.kind, found.count, found.step) == ("polar", (count, 1), (360.0, 0.0))
    assert_is_where_its_members_are(found, 12.0 * noise + 1e-6)


def test_a_ring_without_one_of_its_holes_is_none() -> None:
    holes = [*ring(6, 20.0, 2.0)[:5], Circle((45, 32), 9.0)]
    assert found_in(plate_with(holes)).patterns == ()


def test_two_rings_of_one_size_of_hole_about_one_bore() -> None:
    holes = [*ring(6, 14.0, 2.0), *ring(8, 22.0, 2.0), Circle((45, 32), 9.0)]
    found = found_in(plate_with(holes)).patterns
    assert sorted(each.count[0] for each in found) == [6, 8]


@pytest.mark.parametrize("angle", [0.0, 13.0])
def test_the_bolt_circle_of_the_flange_is_one_pattern_that_is_not_said_twice(
    angle: float
) -> None:
    half = found_in(turned(outline_of(FOLDER / "pump-flange.profile.json"), angle))
    (found,) = half.patterns
    # By the part's own file: six holes of 6.6 on a circle of 60.
    assert (found.kind, found.count) == ("polar", (6, 1))
    assert isinstance(found.seed.curve, Circle)
    assert found.seed.curve.radius == pytest.approx(3.3)
    assert found.center is not None
    assert dist(found.center, found.seed.curve.center) == pytest.approx(30.0)
    assert_is_where_its_members_are(found, 1e-6)
    assert sum(isinstance(chain[0].curve, Circle) and chain[0].curve.radius < 4.0
               for chain in half.kept) == 1


def test_the_holes_of_the_shelf_bracket_are_one_grid() -> None:
    (found,) = found_in(outline_of(FOLDER / "shelf-bracket.profile.json")).patterns
    # By the part's own file: 2 by 2 at 1 1/2 and 1 1/8 inches.
    assert (found.kind, found.count) == ("grid", (2, 2))
    assert sorted(found.step) == pytest.approx([1.125, 1.5])


@pytest.mark.parametrize("axis", [None, "x1", "x2"])
@pytest.mark.parametrize("angle", [0.0, 13.0, 90.0])
def test_a_grid_across_axes_begins_at_a_hole_of_the_kept_side(
    angle: float, axis: str | None
) -> None:
    holes: list[Curve] = [Circle((10.0 * i, 8.0 * j), 2.0) for i in range(5) for j in range(4)]
    plate = [*lines_through((-10, -10), (50, -10), (50, 34), (-10, 34)), *holes]
    half = found_in(turned(plate, angle, 7.0, 8.0), axis=axis)
    assert len(half.axes) == (1 if axis else 2)
    (found,) = half.patterns
    assert found.count[0] * found.count[1] == 20
    assert min(found.step) > 0.0
    assert_is_where_its_members_are(found, 1e-6)
    assert [chain[0] for chain in half.kept if isinstance(chain[0].curve, Circle)] == [found.seed]


def test_a_square_of_holes_is_one_grid_and_no_rings() -> None:
    holes: list[Curve] = [Circle((10.0 * i, 10.0 * j), 2.0) for i in range(7) for j in range(7)]
    half = found_in([*lines_through((-9, -9), (69, -9), (69, 69), (-9, 69)), *holes])
    (found,) = half.patterns
    assert (found.kind, found.count) == ("grid", (7, 7))
    assert found.angle == pytest.approx(180.0)
    assert_is_where_its_members_are(found, 1e-9)


def test_what_reflection_makes_is_no_pattern() -> None:
    outside = lines_through((-50, -30), (50, -30), (50, 30), (-50, 30))
    four = [Circle((x, y), 2.0) for x in (-40, 40) for y in (-20, 20)]
    half = found_in([*outside, *four])
    assert half.patterns == ()
    assert sum(isinstance(chain[0].curve, Circle) for chain in half.kept) == 1


def test_a_grid_beside_the_axis_is_drawn_on_the_kept_side_alone() -> None:
    outside = lines_through((-90, 0), (90, 0), (80, 50), (-80, 50))
    holes = [Circle((side * (30.0 + 10.0 * i), 10.0 + 7.0 * j), 2.0)
             for side in (-1, 1) for i in range(3) for j in range(3)]
    half = found_in([*outside, *holes])
    assert len(half.axes) == 1
    (found,) = half.patterns
    assert found.count == (3, 3)
    assert all(isinstance(each.curve, Circle) and each.curve.center[0] > 0
               for each in found.members)
    assert_is_where_its_members_are(found, 1e-9)


def test_many_holes_in_no_order_are_quick() -> None:
    rng = random.Random(6)
    holes = [Circle((10.0 * i + rng.uniform(-3, 3), 10.0 * j + rng.uniform(-3, 3)), 1.0)
             for i in range(1, 50) for j in range(1, 40)]
    half = halved(one_shape([*lines_through((0, 0), (500, 0), (500, 400), (0, 410)), *holes]),
                  Wishes())
    began = perf_counter()
    assert patterned(half, Wishes()).patterns == ()
    assert perf_counter() - began < 2.0  # seconds, ten times what it takes


def test_a_round_plate_is_no_hole() -> None:
    half = found_in([Circle((0, 0), 40), Circle((0, 0), 10),
                     *(Circle((25 * cos(k * pi / 3), 25 * sin(k * pi / 3)), 3) for k in range(6))])
    (found,) = half.patterns
    assert (found.kind, found.count) == ("polar", (6, 1))
    assert {round(chain[0].curve.radius) for chain in half.kept
            if not isinstance(chain[0].curve, Line)} == {40, 10, 3}
