"""What mending near-tangent joints moves, what it leaves alone, and what is told of it."""

from __future__ import annotations

from math import atan2, cos, degrees, dist, pi, radians, sin, tan, tau

import numpy as np
import pytest
from shapely import LineString

from sketcher.geometry.curves import XY, Arc, Curve, Line
from sketcher.intake.linework import Shape, TakenCurve
from sketcher.intake.near_tangent import made_tangent
from sketcher.intake.wishes import Wishes
from tests.drawn import lines_through

Edge = Line | Arc


def shape_of(curves: list[Edge], noise: float = 1e-6, entity: int | None = None) -> Shape:
    """Return one contour, each curve an entity or all of them one."""
    return Shape((tuple(TakenCurve(curve, (n if entity is None else entity,))
                        for n, curve in enumerate(curves, 1)),), noise=noise)


def told(shape: Shape) -> dict[str, bool]:
    """Whether each repair was made, by its name."""
    return {repair.name: repair.taken for repair in shape.repairs}


def plain(shape: Shape) -> list[Edge]:
    return [each.curve for each in shape.loops[0] if isinstance(each.curve, Line | Arc)]


def heading(curve: Edge, at: XY) -> float:
    """Direction of travel at one end, from the spoke there."""
    if isinstance(curve, Line):
        return atan2(curve.end[1] - curve.start[1], curve.end[0] - curve.start[0])
    spoke = atan2(at[1] - curve.center[1], at[0] - curve.center[0])
    return spoke + (0.5 * pi if curve.ccw else -0.5 * pi)


def breaks(shape: Shape) -> list[float]:
    """Degrees by which each curve breaks from the next."""
    curves = plain(shape)
    found = []
    for one, other in zip(curves, [*curves[1:], curves[0]], strict=True):
        assert one.end == other.start
        turn = heading(other, other.start) - heading(one, one.end)
        found.append(abs(degrees((turn + pi) % tau - pi)))
    return found


def fine(curves: list[Edge]) -> LineString:
    """A contour as chords, for shapely to measure."""
    places: list[XY] = []
    for curve in curves:
        if isinstance(curve, Line):
            places += [(curve.start[0] + t * (curve.end[0] - curve.start[0]),
                        curve.start[1] + t * (curve.end[1] - curve.start[1]))
                       for t in np.linspace(0.0, 1.0, 500)]
        else:
            places += [(curve.center[0] + curve.radius * cos(curve.start_angle + t * curve.sweep),
                        curve.center[1] + curve.radius * sin(curve.start_angle + t * curve.sweep))
                       for t in np.linspace(0.0, 1.0, 500)]
    return LineString(places)


def rounded(radius: float, off: float, size: float = 60.0) -> list[Edge]:
    """Return a square with one corner rounded, its arc `off` degrees from tangent at both ends.

    The center of an arc through the same two ends that turns by 90 degrees less twice `off` lies
    further out on the bisector (plane geometry).
    """
    turn = radians(45.0 - off)
    out = radius * (0.5 + 0.5 / tan(turn))
    center = (size - radius + (radius - out), size - radius + (radius - out))
    start, end = (size, size - radius), (size - radius, size)
    return [*lines(end, (0.0, size), (0.0, 0.0), (size, 0.0), start), Arc(center, start, end)]


def lines(*places: XY) -> list[Edge]:
    return [line for line in lines_through(*places, close=False) if isinstance(line, Line)]


@pytest.mark.parametrize("off", [0.05, 1.0, 1.9])
def test_a_fillet_that_breaks_by_less_than_two_degrees_becomes_tangent(off: float) -> None:
    shape = shape_of(rounded(2.0, off))
    assert max(breaks(shape)[-2:]) == pytest.approx(off, rel=1e-6)  # as it was to be
    made = made_tangent(shape, Wishes())
    assert max(breaks(made)[-2:]) < 1e-7
    assert told(made) == {"tangent-1-5": True, "tangent-4-5": True}
    # The level and plumb lines stay so.
    assert breaks(made)[:3] == pytest.approx([90.0, 90.0, 90.0], abs=1e-9)


@pytest.mark.parametrize("off", [0.05, 1.0, 1.9])
def test_the_move_told_is_the_move_made(off: float) -> None:
    """Hausdorff's distance of fine chords, by shapely."""
    shape = shape_of(rounded(2.0, off))
    made = made_tangent(shape, Wishes())
    moved = fine(plain(shape)).hausdorff_distance(fine(plain(made)))
    size = max(repair.size for repair in made.repairs)
    # shapely measures at the ends of chords of 0.12: a foot beside them lies off by what they do
    assert size == pytest.approx(moved, rel=0.05, abs=1e-5)
    assert size < 0.05


def test_what_a_file_in_full_rounds_off_becomes_tangent_untold() -> None:
    shape = shape_of(rounded(2.0, 1e-6), noise=0.0)
    made = made_tangent(shape, Wishes())
    assert max(breaks(shape)[-2:]) > 5e-7
    assert max(breaks(made)[-2:]) < 1e-10
    assert not made.repairs
    for before, after in zip(plain(shape), plain(made), strict=True):
        assert dist(before.start, after.start) < 1e-6


def test_one_is_refused_by_its_name() -> None:
    shape = shape_of(rounded(2.0, 1.0))
    made = made_tangent(shape, Wishes(keep=frozenset(["tangent-4-5"])))
    assert told(made) == {"tangent-1-5": True, "tangent-4-5": False}
    at_first, at_second = breaks(made)[-2:]
    assert at_first > 0.2  # of one degree: the arc moves for the other joint alone
    assert at_second < 1e-7


def test_each_joint_of_a_polyline_is_refused_alone() -> None:
    shape = shape_of(rounded(2.0, 1.0), entity=12)
    made = made_tangent(shape, Wishes(keep=frozenset(["tangent-12b"])))
    assert told(made) == {"tangent-12": True, "tangent-12b": False}
    assert sorted(breaks(made)[-2:]) == [pytest.approx(0.0, abs=1e-7), pytest.approx(0.3, abs=0.1)]


def snake(spread: float) -> tuple[list[Edge], list[Edge]]:
    """Return a plate whose upper edge is line, arc, arc, arc, line, tangent; and the same off.

    The three arcs have radii 10, 8 and 10 and turn by 60, 120 and 60 degrees there and back.
    """
    curves: list[Edge] = [Line((60.0, 0.0), (40.0, 0.0))]
    at, way = (40.0, 0.0), pi
    for radius, turn in ((10.0, 60.0), (8.0, -120.0), (10.0, 60.0)):
        side = 0.5 * pi if turn > 0.0 else -0.5 * pi
        center = (at[0] + radius * cos(way + side), at[1] + radius * sin(way + side))
        way += radians(turn)
        end = (center[0] + radius * cos(way - side), center[1] + radius * sin(way - side))
        curves.append(Arc(center, at, end, turn > 0.0))
        at = end
    below = -40.0
    exact = [*curves, *lines(at, (at[0] - 20.0, at[1]), (at[0] - 20.0, below), (60.0, below),
                             (60.0, 0.0))]
    chance = np.random.default_rng(5)
    shifted: dict[XY, XY] = {}

    def off(place: XY) -> XY:
        if place not in shifted:
            dx, dy = chance.uniform(-spread, spread, 2).tolist()
            shifted[place] = (place[0] + dx, place[1] + dy)
        return shifted[place]

    inner = {curve.start for curve in exact[1:5]}
    spoiled: list[Edge] = []
    for curve in exact:
        start, end = (off(p) if p in inner else p for p in (curve.start, curve.end))
        spoiled.append(Line(start, end) if isinstance(curve, Line)
                       else Arc(off(curve.center), start, end, curve.ccw))
    return exact, spoiled


def test_a_chain_is_solved_as_one() -> None:
    exact, spoiled = snake(0.02)
    shape = shape_of(spoiled)
    assert min(breaks(shape)[:4]) > 0.005
    made = made_tangent(shape, Wishes())
    assert max(breaks(made)[:4]) < 1e-7
    assert [repair.taken for repair in made.repairs] == [True] * 4
    for meant, found in zip(exact, plain(made), strict=True):
        assert dist(meant.start, found.start) < 0.1
        if isinstance(meant, Arc) and isinstance(found, Arc):
            assert found.radius == pytest.approx(meant.radius, abs=0.1)


def test_a_joint_that_would_move_too_far_does_not_keep_the_others_open() -> None:
    curves = rounded(2.0, 1.0)  # and the corner at the origin with a radius that moves too far
    big: list[Curve] = [*rounded(20.0, 1.5)]
    arc = big[-1]
    assert isinstance(arc, Arc)

    def across(p: XY) -> XY:
        return (60.0 - p[0], 60.0 - p[1])

    other = Arc(across(arc.center), across(arc.start), across(arc.end))
    joined: list[Edge] = [*lines(curves[0].start, (0.0, 60.0), other.start), other,
                          *lines(other.end, (60.0, 0.0), curves[3].end), curves[4]]
    made = made_tangent(shape_of(joined), Wishes())
    turned = breaks(made)
    assert max(turned[-2:]) < 1e-7
    assert min(turned[1:3]) > 1.0
    assert told(made) == {"tangent-5-6": True, "tangent-1-6": True, "tangent-2-3": False,
                          "tangent-3-4": False}
