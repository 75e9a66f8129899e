"""Where leaders and angles stand: what they cost by themselves, and what carries their lines."""

from __future__ import annotations

from math import atan2, degrees, dist, radians

import numpy as np
import pytest

from sketcher.drafting.dimension_text import Wording
from sketcher.drafting.draw_angle import draw_angle
from sketcher.drafting.layout.angle_places import AnglePlaces
from sketcher.drafting.layout.ink import ELBOW
from sketcher.drafting.layout.leader_places import LeaderPlaces, slope_cost
from sketcher.drafting.layout.paper_ground import Ground
from sketcher.drafting.measured import MeasuredAngle, MeasuredRound, Wedge, against_level
from sketcher.drafting.primitives import Stroke
from sketcher.drafting.sizes import Sizes
from sketcher.geometry.curves import Arc, Circle, Line

SIZES = Sizes("ISO", 3.5)


def test_leaders_slope_by_30_to_60_degrees_before_they_slope_otherwise() -> None:
    """Course notes: leaders are sloped, 30, 45 or 60 degrees, never level or plumb."""
    turn = np.radians(np.arange(0.0, 360.0, 7.5))
    slope = np.degrees(np.arctan2(np.abs(np.sin(turn)), np.abs(np.cos(turn))))
    sloped = (slope > 29.9) & (slope < 60.1)
    cost = slope_cost(turn)
    assert cost[sloped].max() < 0.5
    assert cost[~sloped].min() > 3.0
    assert cost[slope < 1.0].min() > cost[(slope > 20.0) & (slope < 70.0) & ~sloped].max()


def test_the_first_place_about_any_arc_that_has_one_slopes() -> None:
    for start in range(0, 360, 15):
        arc = Arc((0, 0), (8 * np.cos(radians(start)), 8 * np.sin(radians(start))),
                  (8 * np.cos(radians(start + 90)), 8 * np.sin(radians(start + 90))))
        one = MeasuredRound("r", arc, False, Wording("R8"))
        places = LeaderPlaces(0, Ground([arc]), SIZES, one=one)
        first = places.stage(0)
        assert first is not None
        drawn = places.draw(first.place(int(first.bare.argmin())))
        leader = next(i.curve for i in drawn.items if isinstance(i, Stroke))
        (x0, y0), (x1, y1) = leader.start, leader.end
        assert 29.5 < degrees(atan2(abs(y1 - y0), abs(x1 - x0))) < 60.5


def test_an_elbow_beside_an_edge_is_as_dear_as_one_on_it() -> None:
    """A plumb edge stands where the shoulder begins, then 1 mm before, then 3 mm before."""
    circle = Circle((0, 0), 5.0)
    one = MeasuredRound("d", circle, True, Wording("Ø10"))

    def cost(x: float) -> float:
        places = LeaderPlaces(0, Ground([circle, Line((x, -50), (x, 50))]), SIZES, one=one)
        at = np.array([(0.0, radians(45.0), 10.0, 0.0)])
        batch = places.ink(at)[1]
        assert ELBOW in batch.kinds
        return float(places.ground.costs(batch)[0])

    knee = 15.0 * np.cos(radians(45.0))
    assert cost(knee) > 29.0
    assert cost(knee - 1.0) > 29.0
    assert cost(knee - 3.0) < 5.0


AXIS = Line((0.0, 0.0), (60.0, 30.0))


def test_an_angle_to_level_stands_beyond_the_end_of_its_center_line() -> None:
    """The center line runs 6 past the ends of the axis; out there the vertical angle begins."""
    ux, uy = AXIS.direction
    carried = Line((-6 * ux, -6 * uy), (60 + 6 * ux, 30 + 6 * uy))
    one = MeasuredAngle("a", tuple(against_level(AXIS, True)), Wording("26.6°"))
    places = AnglePlaces(0, Ground([], [carried]), SIZES, one=one)
    beyond = places.wedges[len(one.options):]
    assert len(beyond) == len(one.options)
    for before, wedge in zip(one.options, beyond, strict=True):
        assert dist(wedge.vertex, before.vertex) == pytest.approx(6.0)
        drawn = draw_angle(one, wedge, 14.0, SIZES, places.ground.runouts)
        for item in drawn.items:
            if isinstance(item, Stroke) and item.line == "extension":
                away = [dist(p, wedge.vertex) for p in (item.curve.start, item.curve.end)]
                assert away == [pytest.approx(SIZES.gap), pytest.approx(14.0 + SIZES.past)]


def test_a_side_inside_of_its_edge_begins_at_the_end_of_the_center_line_there() -> None:
    """From 52 a tick of 8 leads towards the vertex: the side is carried on from its end at 44."""
    tick = Line((44.0, 0.0), (58.0, 0.0))
    wedge = Wedge((0.0, 0.0), ((1.0, 0.0), (0.0, 1.0)), ((52.0, 52.0), (0.0, 0.0)))
    one = MeasuredAngle("a", (wedge,), Wording("90°"))
    ground = Ground([], [tick])
    drawn = draw_angle(one, wedge, 30.0, SIZES, ground.runouts)
    level = next(i.curve for i in drawn.items if isinstance(i, Stroke) and i.line == "extension"
                 and abs(i.curve.start[1]) < 1e-9 and abs(i.curve.end[1]) < 1e-9)
    assert sorted(p[0] for p in (level.start, level.end)) == [
        pytest.approx(30.0 - SIZES.past), pytest.approx(44.0 - SIZES.gap)]


def test_beyond_the_vertex_a_side_is_carried_on_from_its_edge() -> None:
    """The edge ends 8 before the vertex, over which a center line runs."""
    edge, center = Line((-40.0, 0.0), (-8.0, 0.0)), Line((-20.0, -20.0), (20.0, 20.0))
    wedge = Wedge((0.0, 0.0), ((1.0, 0.0), (0.6, 0.8)), ((0.0, 0.0), (0.0, 0.0)))
    one = MeasuredAngle("a", (wedge,), Wording("53°"))
    drawn = draw_angle(one, wedge, 20.0, SIZES, Ground([edge], [center]).runouts)
    level = next(i.curve for i in drawn.items if isinstance(i, Stroke) and i.line == "extension"
                 and abs(i.curve.end[1]) < 1e-9)
    assert level.start[0] == pytest.approx(-8.0 + SIZES.gap)
