"""Turns that centers and corners tell; what they were before is the outside of these tests."""

from __future__ import annotations

import random
from math import cos, degrees, dist, pi, sin

import pytest

from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.intake.axes import halved
from sketcher.intake.joint_table import joint_table
from sketcher.intake.turn_of_places import turn_of_places
from sketcher.intake.wishes import Wishes
from tests.demo_parts import FOLDER
from tests.seldom import some_of
from tests.turned_drawings import blurred, one_shape, outline_of, turned

ARM = FOLDER / "shift-arm.profile.json"


def plate(seed: int, step: float, size: float = 60.0) -> list[Curve]:
    """Five corners, no side level, and three holes, anywhere or in whole steps."""
    rng = random.Random(seed)

    def at(angle: float, far: float) -> XY:
        x, y = far * cos(angle), far * sin(angle)
        return (step * round(x / step), step * round(y / step)) if step else (x, y)

    corners = [at(0.4 * pi * (k + rng.uniform(0.1, 0.6)), size * rng.uniform(0.9, 1.3))
               for k in range(5)]
    holes: list[XY] = []
    while len(holes) < 3:
        place = at(rng.uniform(0.0, 2.0 * pi), size * rng.uniform(0.0, 0.4))
        if all(dist(place, other) > 0.15 * size for other in holes):
            holes.append(place)
    return [*(Line(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)),
            *(Circle(place, size * rng.choice((0.03, 0.05, 0.07))) for place in holes)]


def told(curves: list[Curve], noise: float = 0.0, unit: str = "mm") -> float:
    """Degrees by which a part is told to be turned."""
    shape = one_shape(blurred(curves, noise, 7) if noise else curves, noise=noise)
    return degrees(turn_of_places(joint_table(shape), noise, "in" if unit == "in" else "mm"))


@pytest.mark.parametrize(("step", "noise"), [(5.0, 1e-3), (1.0, 1e-3), (0.5, 1e-4), (0.1, 1e-6)])
@pytest.mark.parametrize("angle", [13.0, -29.7431])
@pytest.mark.parametrize("seeds", some_of([range(2), range(2, 4)], range(2).__eq__))
def test_a_part_on_a_grid_is_turned_back(
    step: float, noise: float, angle: float, seeds: range
) -> None:
    """No noise of e at the end of something as long as the part turns it by more than 2 e / l."""
    for seed in seeds:
        assert told(turned(plate(seed, step), angle, 500.0), noise) == pytest.approx(
            angle, abs=degrees(2.0 * noise / 60.0))


@pytest.mark.parametrize("step", [0.0625, 0.05])
def test_inches_have_two_rows_of_steps(step: float) -> None:
    for seed in range(4):
        curves = turned(plate(seed, step, 2.5), 13.0)
        assert told(curves, 1e-6, "in") == pytest.approx(13.0, abs=1e-4)


@pytest.mark.parametrize("noise", [0.0, 1e-4, 5e-3])
@pytest.mark.parametrize("seeds", some_of([range(5), range(5, 15)], range(5).__eq__))
def test_a_part_in_which_nothing_agrees_stays(noise: float, seeds: range) -> None:
    for seed in seeds:
        assert told(plate(seed, 0.0), noise) == 0.0


@pytest.mark.parametrize("step", [5.0, 1.0, 0.5, 0.1, 0.01])
@pytest.mark.parametrize("seeds", some_of([range(2), range(2, 6)], range(2).__eq__))
def test_a_part_that_stands_on_its_grid_stays(step: float, seeds: range) -> None:
    """Multiples of 5 are whole under a turn of 3, 4 and 5 as well: the plainer figures win."""
    for seed in seeds:
        assert told(plate(seed, step), 1e-6) == 0.0


def test_whole_degrees_alone_turn_nothing() -> None:
    """Sides at 13°, 33°, 73° and 118°, a hole anywhere: whole degrees under any whole turn."""
    at, sides = (0.0, 0.0), []
    for way, far in ((13.0, 80.1234), (73.0, 31.7301), (118.0, 47.9177), (213.0, 66.6019)):
        to = (at[0] + far * cos(way * pi / 180.0), at[1] + far * sin(way * pi / 180.0))
        sides.append(Line(at, to))
        at = to
    hole = Circle((22.2417, 31.0101), 4.0)
    assert told([*sides, Line(at, (0.0, 0.0)), hole], 1e-6) == 0.0


@pytest.mark.parametrize("noise", [0.0, 1e-4])
def test_the_arm_is_straightened_and_says_so(noise: float) -> None:
    curves = turned(outline_of(ARM), 13.0, 1000.0)
    half = halved(one_shape(blurred(curves, noise, 3) if noise else curves, noise=noise), Wishes())
    assert degrees(half.frame.turn) == pytest.approx(13.0, abs=degrees(2.0 * noise / 100.0) + 1e-9)
    (repair,) = half.repairs
    assert (repair.kind, repair.taken) == ("turned", True)
    assert repair.text.startswith("turned by 1")
    assert repair.text.endswith("\N{DEGREE SIGN} in the file, drawn where its places and slopes "
                                "are round")


def test_the_arm_as_it_is_stays_and_a_person_may_keep_it_turned() -> None:
    assert halved(one_shape(outline_of(ARM)), Wishes()).repairs == ()
    kept = halved(one_shape(turned(outline_of(ARM), 13.0)), Wishes(keep=frozenset({"turned"})))
    assert kept.frame.turn == 0.0
    assert not kept.repairs[0].taken
