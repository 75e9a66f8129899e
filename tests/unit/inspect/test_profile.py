"""Closed contours of the whole part, and each thing that spoils them."""

from __future__ import annotations

from math import pi

import pytest

from sketcher.part.value import GridPattern, frozen
from tests.plates import codes, looked_at, plate, polygon, rectangle


def test_a_plate_with_a_hole() -> None:
    points, lines = rectangle(40.0, 20.0)
    inspection = looked_at(plate({**points, "c": (10.0, 10.0)}, {**lines, "h": ("c", 4.0)}))
    profile = inspection.profile
    assert inspection.sound
    assert profile.closed
    assert [(loop.hole, loop.depth, len(loop.ids)) for loop in profile.loops] == [
        (False, 0, 4), (True, 1, 1)
    ] or [(loop.hole, loop.depth, len(loop.ids)) for loop in profile.loops] == [
        (True, 1, 1), (False, 0, 4)
    ]
    assert profile.area == pytest.approx(800.0 - 16.0 * pi, rel=1e-14)
    assert profile.perimeter == pytest.approx(120.0 + 8.0 * pi, rel=1e-14)
    assert profile.bounds == (0.0, 0.0, 40.0, 20.0)


def test_mass_of_a_steel_plate() -> None:
    # 100 x 100 x 10 mm of 7850 kg/m3 is 0.785 kg; the same in inches.
    points, lines = rectangle(100.0, 100.0)
    assert looked_at(plate(points, lines, thickness=10.0)).profile.mass == pytest.approx(0.785)
    points, lines = rectangle(100.0 / 25.4, 100.0 / 25.4)
    inch = plate(points, lines, thickness=10.0 / 25.4, unit="in")
    assert looked_at(inch).profile.mass == pytest.approx(0.785, rel=1e-12)


def test_second_moments_are_about_the_centroid() -> None:
    points, lines = rectangle(40.0, 20.0, at=(100.0, 50.0))
    moments = looked_at(plate(points, lines)).profile.as_dict()["second_moments"]
    # b h^3 / 12 and h b^3 / 12
    assert moments == {
        "Ix": pytest.approx(40.0 * 20.0**3 / 12.0), "Iy": pytest.approx(20.0 * 40.0**3 / 12.0),
        "Ixy": pytest.approx(0.0, abs=1e-6),
    }


def test_strays_are_told_and_the_contour_stays() -> None:
    points, lines = rectangle(40.0, 20.0)
    points |= {"s1": (10.0, 10.0), "s2": (20.0, 10.0)}
    inspection = looked_at(plate(points, {**lines, "s": ("s1", "s2")}))
    assert inspection.profile.strays == ("s",)
    assert not inspection.profile.closed
    assert inspection.profile.area == pytest.approx(800.0)
    assert codes(inspection) == ["stray"]  # that it is alone tells both of its ends
    assert inspection.findings[-1].at == (15.0, 10.0)


def test_overlap() -> None:
    points, lines = rectangle(40.0, 20.0)
    inspection = looked_at(plate(points, {**lines, "twice": ("p1", "p2")}))
    assert any(set(ids) == {"pe1", "twice"} for ids, _ in inspection.profile.overlaps)
    assert "overlap" in codes(inspection)
    overlap = next(f for f in inspection.findings if f.code == "overlap")
    assert overlap.at == (20.0, 0.0)


def test_the_same_hole_twice() -> None:
    points, lines = rectangle(40.0, 20.0)
    points |= {"c": (10.0, 10.0), "d": (10.0, 10.0)}
    inspection = looked_at(plate(points, {**lines, "h1": ("c", 4.0), "h2": ("d", 4.0)}))
    assert "overlap" in codes(inspection)


def test_crossing_contours() -> None:
    points, lines = rectangle(40.0, 20.0)
    inspection = looked_at(plate({**points, "c": (2.0, 10.0)}, {**lines, "h": ("c", 4.0)}))
    crossings = [f for f in inspection.findings if f.code == "crossing"]
    assert len(crossings) == 2
    assert {f.ids for f in crossings} == {("pe4", "h")}
    assert sorted(f.at[1] for f in crossings) == pytest.approx(  # type: ignore[index]
        [10.0 - 12.0**0.5, 10.0 + 12.0**0.5]
    )


def test_a_hole_that_touches_the_edge() -> None:
    points, lines = rectangle(40.0, 20.0)
    inspection = looked_at(plate({**points, "c": (4.0, 10.0)}, {**lines, "h": ("c", 4.0)}))
    assert codes(inspection) == ["crossing"]


def test_an_outline_that_crosses_itself() -> None:
    points, lines = polygon((0, 0), (10, 10), (10, 0), (0, 10))
    assert "crossing" in codes(looked_at(plate(points, lines)))


def test_contours_that_share_a_corner() -> None:
    points, lines = rectangle(10.0, 10.0)
    points |= {"q2": (20.0, 10.0), "q3": (20.0, 20.0), "q4": (10.0, 20.0)}
    lines |= {"f1": ("p3", "q2"), "f2": ("q2", "q3"), "f3": ("q3", "q4"), "f4": ("q4", "p3")}
    inspection = looked_at(plate(points, lines))
    assert codes(inspection) == ["crossing"]
    assert inspection.findings[0].at == (10.0, 10.0)


def test_a_curve_without_length() -> None:
    points, lines = rectangle(40.0, 20.0)
    points["twin"] = points["p1"]
    inspection = looked_at(plate(points, {**lines, "s": ("p1", "twin")}))
    assert "speck" in codes(inspection)


def test_nothing_drawn() -> None:
    inspection = looked_at(plate({"p": (0.0, 0.0), "q": (9.0, 0.0)}, {"s": ("p", "q")},
                                 roles={"s": "layout"}))
    assert codes(inspection) == ["empty"]
    assert not inspection.profile.closed
    assert inspection.profile.as_dict()["centroid"] is None


def test_layout_and_axis_are_no_outline() -> None:
    points, lines = rectangle(40.0, 20.0)
    points |= {"s1": (-5.0, 10.0), "s2": (50.0, 10.0)}
    part = plate(points, {**lines, "s": ("s1", "s2")}, roles={"s": "layout"})
    assert looked_at(part).sound


def test_pattern_instances_are_holes_of_their_own() -> None:
    points, lines = rectangle(40.0, 20.0)
    pattern = GridPattern(("h",), ("10", "0"), (3, 1))
    part = plate({**points, "c": (10.0, 10.0)}, {**lines, "h": ("c", 2.0)},
                 patterns=frozen({"g": pattern}))
    profile = looked_at(part).profile
    assert {loop.ids[0] for loop in profile.loops if loop.hole} == {"h", "h#1", "h#2"}
    assert profile.area == pytest.approx(800.0 - 12.0 * pi, rel=1e-13)


def test_a_circle_in_arcs_is_seen_as_a_circle() -> None:
    points, lines = rectangle(40.0, 20.0)
    points |= {"c": (20.0, 10.0), "a": (24.0, 10.0), "b": (16.0, 10.0)}
    arcs = {"a1": ("a", "b", "c", "ccw"), "a2": ("b", "a", "c", "ccw")}
    hole = next(loop for loop in looked_at(plate(points, {**lines, **arcs})).profile.loops
                if loop.hole)
    assert hole.circle is not None
    assert hole.circle.radius == pytest.approx(4.0)
    assert hole.inside_corners == ()


def test_inside_corners_point_into_the_material() -> None:
    # An L: one corner of six points into the material.
    points, lines = polygon((0, 0), (30, 0), (30, 10), (10, 10), (10, 30), (0, 30))
    loop = looked_at(plate(points, lines)).profile.loops[0]
    assert [(corner.at, corner.radius) for corner in loop.inside_corners] == [((10, 10), 0.0)]


def test_every_corner_of_a_square_hole_is_an_inside_corner() -> None:
    points, lines = rectangle(40.0, 40.0)
    inner, more = rectangle(10.0, 10.0, at=(15.0, 15.0), prefix="q")
    profile = looked_at(plate({**points, **inner}, {**lines, **more})).profile
    assert [len(loop.inside_corners) for loop in profile.loops if loop.hole] == [4]
    assert [len(loop.inside_corners) for loop in profile.loops if not loop.hole] == [0]
