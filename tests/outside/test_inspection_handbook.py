"""Areas, centroids and second moments that the inspection prints, against published sections.

Values and formulas: Machinery's Handbook, 31st ed., pp. 242-258 (moments of inertia of sections);
tables of centroids and second moments in Wikibooks *Statics* and LibreTexts "Tables of geometries";
composite areas from Beer and Johnston, *Vector Mechanics: Statics*, chapter 5, as worked on a
course site (the book itself from memory). Long decimals follow from the closed forms.
"""

from __future__ import annotations

from math import pi
from typing import Any

import pytest

from sketcher.inspect.profile import Profile
from sketcher.part.value import Part
from tests.plates import looked_at, plate, polygon, rectangle


def profile(part: Part) -> Profile:
    """Profile of a sound part; the fillet's two horns are told, as they should be."""
    inspection = looked_at(part)
    assert {finding.code for finding in inspection.findings} <= {"fold"}, inspection.findings
    return inspection.profile


def section(part: Part) -> dict[str, Any]:
    """Area, centroid and second moments about the centroid as the file has them."""
    return profile(part).as_dict()


def obround() -> Part:
    points = {"a": (-5.0, -2.0), "b": (5.0, -2.0), "c": (5.0, 2.0), "d": (-5.0, 2.0),
              "m": (5.0, 0.0), "n": (-5.0, 0.0)}
    return plate(points, {"e1": ("a", "b"), "a1": ("b", "c", "m", "ccw"), "e2": ("c", "d"),
                          "a2": ("d", "a", "n", "ccw")})


def rounded_plate() -> Part:
    """100 by 60 with corners of R10, its lower left corner at the origin."""
    points = {"a": (10, 0), "b": (90, 0), "c": (100, 10), "d": (100, 50), "e": (90, 60),
              "f": (10, 60), "g": (0, 50), "h": (0, 10), "k1": (90, 10), "k2": (90, 50),
              "k3": (10, 50), "k4": (10, 10)}
    curves = {"e1": ("a", "b"), "a1": ("b", "c", "k1", "ccw"), "e2": ("c", "d"),
              "a2": ("d", "e", "k2", "ccw"), "e3": ("e", "f"), "a3": ("f", "g", "k3", "ccw"),
              "e4": ("g", "h"), "a4": ("h", "a", "k4", "ccw")}
    return plate({k: (float(x), float(y)) for k, (x, y) in points.items()}, curves)


def semicircle() -> Part:
    points = {"a": (-1.0, 0.0), "b": (1.0, 0.0), "o": (0.0, 0.0)}
    return plate(points, {"e": ("a", "b"), "a1": ("b", "a", "o", "ccw")})


def quarter() -> Part:
    points = {"o": (0.0, 0.0), "a": (1.0, 0.0), "b": (0.0, 1.0)}
    return plate(points, {"e1": ("o", "a"), "a1": ("a", "b", "o", "ccw"), "e2": ("b", "o")})


def spandrel() -> Part:
    """What a fillet of R1 fills in a square corner at the origin."""
    points = {"o": (0.0, 0.0), "a": (1.0, 0.0), "b": (0.0, 1.0), "c": (1.0, 1.0)}
    return plate(points, {"e1": ("o", "a"), "a1": ("a", "b", "c", "cw"), "e2": ("b", "o")})


def annulus() -> Part:
    return plate({"o": (0.0, 0.0)}, {"h1": ("o", 5.0), "h2": ("o", 3.0)})


def outline(*corners: tuple[float, float]) -> Part:
    return plate(*polygon(*corners))


SECTIONS = [
    ("obround", obround(), 40 + 4 * pi, (0.0, 0.0), 65.8997039476925, 766.725635973338, 0.0),
    ("100x60 R10", rounded_plate(), 5914.15926535898, (50.0, 30.0), 1733517.68777757,
     4803842.13954167, 0.0),
    ("semicircle", semicircle(), pi / 2, (0.0, 0.424413181578388), 0.109756960646466, pi / 8, 0.0),
    ("quarter", quarter(), pi / 4, (0.424413181578388,) * 2, 0.0548784803232329,
     0.0548784803232329, -0.0164710605261292),
    ("fillet", spandrel(), 0.214601836602552, (0.223367938945752,) * 2, 0.0075451156415966,
     0.0075451156415966, None),
    ("annulus", annulus(), 16 * pi, (0.0, 0.0), 427.256600888212, 427.256600888212, 0.0),
    ("equal angle 100x100x10",
     outline((0, 0), (100, 0), (100, 10), (10, 10), (10, 100), (0, 100)),
     1900.0, (28.6842105263158,) * 2, 1800043.85964912, 1800043.85964912, -1065789.47368421),
    ("angle 100x75x10", outline((0, 0), (75, 0), (75, 10), (10, 10), (10, 100), (0, 100)),
     1650.0, (19.7727272727273, 32.2727272727273), 1636477.27272727, 791164.772727273, None),
    ("channel d100 b50 flange 10 web 6",
     outline((0, 0), (50, 0), (50, 10), (6, 10), (6, 90), (50, 90), (50, 100), (0, 100)),
     1480.0, (17.8648648648649, 50.0), 2289333.33333333, 366746.306306306, 0.0),
    ("T 100x10 on 10x90",
     outline((45, 0), (55, 0), (55, 90), (100, 90), (100, 100), (0, 100), (0, 90), (45, 90)),
     1900.0, (50.0, 71.3157894736842), 1800043.85964912, 840833.333333333, 0.0),
]


@pytest.mark.parametrize(
    ("part", "area", "centroid", "ix", "iy", "ixy"), [row[1:] for row in SECTIONS],
    ids=[row[0] for row in SECTIONS],
)
def test_sections(
    part: Part, area: float, centroid: tuple[float, float], ix: float, iy: float, ixy: float | None
) -> None:
    told = section(part)
    assert told["area"] == pytest.approx(area, rel=1e-13)
    assert told["centroid"] == pytest.approx(centroid, rel=1e-13, abs=1e-13)
    assert told["second_moments"]["Ix"] == pytest.approx(ix, rel=1e-12)
    assert told["second_moments"]["Iy"] == pytest.approx(iy, rel=1e-12)
    if ixy is not None:
        assert told["second_moments"]["Ixy"] == pytest.approx(ixy, rel=1e-12, abs=1e-12 * ix)


def test_perimeters() -> None:
    assert profile(obround()).perimeter == pytest.approx(20 + 4 * pi, rel=1e-14)
    assert profile(rounded_plate()).perimeter == pytest.approx(302.831853071796, rel=1e-14)


def test_channel_by_the_handbooks_closed_forms() -> None:
    # Machinery's Handbook, 31st ed., pp. 242-258: b, d, flange s, web t, h between the flanges.
    d, b, s, t = 120.0, 55.0, 9.0, 7.0
    h = d - 2 * s
    told = section(outline((0, 0), (b, 0), (b, s), (t, s), (t, d - s), (b, d - s), (b, d), (0, d)))
    area = b * d - h * (b - t)
    assert told["area"] == pytest.approx(area)
    assert told["second_moments"]["Ix"] == pytest.approx((b * d**3 - h**3 * (b - t)) / 12)
    assert told["centroid"][0] == pytest.approx((2 * b * b * s + h * t * t) / (2 * area))


# Beer and Johnston, chapter 5; the printed value has three figures.
def test_composite_of_two_rectangles() -> None:
    # Problem 5.1 (in): 8 x 6 about (-4, 9), 16 x 12 about (8, 6), side by side.
    told = section(outline((-8, 6), (0, 6), (0, 0), (16, 0), (16, 12), (-8, 12)))
    assert told["area"] == pytest.approx(240.0)
    assert told["centroid"] == pytest.approx([5.60, 6.60], abs=0.005)


def test_composite_of_a_triangle_and_a_rectangle() -> None:
    # Problem 5.2 (mm): triangle 60 x 75 about (40, 25), rectangle 105 x 75 about (112.5, 37.5).
    told = section(outline((0, 0), (165, 0), (165, 75), (60, 75)))
    assert told["area"] == pytest.approx(10125.0)
    assert told["centroid"] == pytest.approx([96.4, 34.7], abs=0.05)
    assert told["centroid"] == pytest.approx([96.3888889, 34.7222222], rel=1e-8)


def test_composite_of_a_quarter_circle_and_a_triangle() -> None:
    # Problem 5.6 (in): quarter circle r 9 left of the y axis, triangle 15 x 9 right of it.
    points = {"o": (0.0, 0.0), "a": (15.0, 0.0), "b": (0.0, 9.0), "c": (-9.0, 0.0)}
    told = section(plate(points, {"e1": ("o", "a"), "e2": ("a", "b"),
                                  "a1": ("b", "c", "o", "ccw"), "e3": ("c", "o")}))
    assert told["area"] == pytest.approx(131.1, abs=0.05)
    assert told["centroid"] == pytest.approx([0.721, 3.40], abs=0.005)


def test_composite_with_a_hole() -> None:
    # Sample problem 5.1 (mm), statement from memory: rectangle, triangle below, semicircle on top,
    # less a circle.
    points = {"o": (0.0, 0.0), "t": (0.0, -60.0), "b": (120.0, 0.0), "c": (120.0, 80.0),
              "d": (0.0, 80.0), "m": (60.0, 80.0)}
    curves = {"e1": ("o", "t"), "e2": ("t", "b"), "e3": ("b", "c"), "a1": ("c", "d", "m", "ccw"),
              "e4": ("d", "o"), "h": ("m", 40.0)}
    inspection = looked_at(plate(points, curves))
    told = inspection.profile.as_dict()
    assert told["area"] == pytest.approx(13828.3185307, rel=1e-11)
    assert told["centroid"] == pytest.approx([54.7932932, 36.6107768], rel=1e-8)


def test_half_profile_doubled_by_its_reflection() -> None:
    # The whole has twice the area of the half, its centroid on the axis, and no product moment.
    points = {"p1": (0.0, 0.0), "p2": (15.0, 0.0), "p3": (20.0, 5.0), "p4": (20.0, 20.0),
              "p5": (0.0, 26.0), "c": (15.0, 5.0)}
    curves = {"e1": ("p1", "p2"), "a1": ("p2", "p3", "c", "ccw"), "e2": ("p3", "p4"),
              "e3": ("p4", "p5")}
    closed = section(plate(points, {**curves, "e4": ("p5", "p1")}))
    whole = section(plate(points, {**curves, "ax": ("p1", "p5")}, axis="ax", roles={"ax": "axis"}))
    assert whole["area"] == pytest.approx(2.0 * closed["area"], rel=1e-14)
    assert whole["centroid"] == pytest.approx([0.0, closed["centroid"][1]], abs=1e-12)
    assert whole["second_moments"]["Ixy"] == pytest.approx(0.0, abs=1e-9)


def test_mass_of_a_plate() -> None:
    # 100 x 100 x 10 mm: 0.785 kg in steel of 7850 kg/m3 (Gere, *Mechanics of Materials*, 5th ed.).
    assert profile(plate(*rectangle(100.0, 100.0), thickness=10.0)).mass == pytest.approx(0.785)
