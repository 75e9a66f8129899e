"""Areas, centroids and second moments against handbooks, textbooks and shapely."""

from __future__ import annotations

from itertools import pairwise
from math import cos, hypot, pi, radians, sin, sqrt

import pytest
import shapely
from shapely.geometry import Polygon

from sketcher.exchange.dxf_curves import arc_from_bulge
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.evaluate import point_at, reflected
from sketcher.geometry.moments import section, signed_area
from tests.loop_moments import loop_moments


def polygon(*corners):
    return [Line(a, b) for a, b in pairwise((*corners, corners[0]))]


def regular(n, radius):
    return [(radius * cos(2 * pi * k / n), radius * sin(2 * pi * k / n)) for k in range(n)]


def rectangle(x0, y0, x1, y1):
    return polygon((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def sector(radius, first, last):
    a, b = ((radius * cos(t), radius * sin(t)) for t in (first, last))
    return [Line((0.0, 0.0), a), Arc((0.0, 0.0), a, b), Line(b, (0.0, 0.0))]


def segment(radius, theta):
    """Chord below, arc above, about the y axis."""
    a, b = ((radius * sin(t), radius * cos(t)) for t in (theta / 2, -theta / 2))
    return [Arc((0.0, 0.0), a, b), Line(b, a)]


# Machinery's Handbook, 31st ed., p. 83: circular segments of radius 1.
SEGMENTS = [
    (10, 0.174532925199433, 0.174311485495316, 0.000442373766251304),
    (30, 0.523598775598299, 0.517638090205042, 0.0117993877991494),
    (45, 0.785398163397448, 0.765366864730180, 0.0391456911054504),
    (60, 1.04719755119660, 1.0, 0.0905860737060795),
    (90, 1.57079632679490, 1.41421356237310, 0.285398163397448),
    (120, 2.09439510239320, 1.73205080756888, 0.614184849304378),
    (135, 2.35619449019234, 1.84775906502257, 0.824543854502899),
    (150, 2.61799387799149, 1.93185165257814, 1.05899693899575),
    (180, 3.14159265358979, 2.0, 1.57079632679490),
    (270, 4.71238898038469, 1.41421356237310, 2.85619449019234),
]


@pytest.mark.parametrize(("degrees", "arc", "chord", "area"), SEGMENTS)
def test_segments(degrees, arc, chord, area):
    found = loop_moments(segment(1.0, radians(degrees)))
    assert found.area == pytest.approx(area, rel=1e-13)
    assert found.perimeter == pytest.approx(arc + chord, rel=1e-13)


@pytest.mark.parametrize(
    ("page", "curves", "printed", "exact"),
    [
        (50, sector(7.0, 0.0, radians(30)), 12.83, 12.8281700),
        (50, segment(12.0, radians(67.1146195)), 18.01, 18.0062225),
        (78, [Circle((0.0, 0.0), 1.375)], 5.9396, 5.93957361),
        (78, sector(35.0, 0.0, radians(60)), 641.41, 641.408500),
        (78, polygon(*regular(12, 8.0)), 191.98, 192.0),
        (80, [Line((0.7, 0.0), (0.0, 0.0)), Line((0.0, 0.0), (0.0, 0.7)),
              Arc((0.7, 0.7), (0.0, 0.7), (0.7, 0.0))], 0.105, 0.105154900),
    ],
)
def test_printed_examples(page, curves, printed, exact):
    """Machinery's Handbook, 31st ed., worked examples on the page."""
    area = loop_moments(curves).area
    assert area == pytest.approx(exact, rel=2e-8)  # exact column given to 9 digits
    assert area == pytest.approx(printed, rel=2e-3)  # the book's rounded constants


def test_ring_of_the_handbook():
    """Machinery's Handbook, 31st ed., p. 79: ring of diameters 12 and 8."""
    ring = section([([Circle((3.0, 1.0), 6.0)], False), ([Circle((3.0, 1.0), 4.0)], True)])
    assert ring.area == pytest.approx(20 * pi, rel=1e-14)
    assert ring.area == pytest.approx(62.83, rel=1e-4)


def test_semicircle_and_quarter():
    """Wikibooks Statics, tables of centroids and moments of inertia; LibreTexts tables."""
    half = loop_moments([Arc((0, 0), (1, 0), (-1, 0)), Line((-1, 0), (1, 0))])
    assert half.centroid == pytest.approx((0.0, 0.424413181578388), abs=1e-14)
    assert half.ix == pytest.approx(pi / 8)
    assert half.iy == pytest.approx(pi / 8)
    assert half.central[0] == pytest.approx(0.109756960646466, rel=1e-13)
    quarter = loop_moments(sector(1.0, 0.0, pi / 2))
    assert quarter.centroid == pytest.approx((0.424413181578388,) * 2)
    assert quarter.ix == pytest.approx(pi / 16)
    assert quarter.central[0] == pytest.approx(0.0548784803232329, rel=1e-13)
    assert quarter.central[2] == pytest.approx(-0.0164710605261292, rel=1e-12)


def test_fillet_spandrel():
    """LibreTexts table: quarter-circular spandrel, from the sharp corner's edges."""
    edges = [Line((1, 0), (0, 0)), Line((0, 0), (0, 1))]
    spandrel = loop_moments([*edges, Arc((1, 1), (0, 1), (1, 0))])
    assert spandrel.area == pytest.approx(0.214601836602552)
    assert spandrel.centroid == pytest.approx((0.223367938945752,) * 2)
    assert spandrel.ix == pytest.approx(0.0182522957531896, rel=1e-12)
    assert spandrel.central[0] == pytest.approx(0.0075451156415966, rel=1e-12)


@pytest.mark.parametrize(
    ("degrees", "from_center", "about_axis"),
    [(60, 0.636619772367581, 0.0226465184265199), (90, 0.600210877438071, 0.0713495408493621)],
)
def test_sectors(degrees, from_center, about_axis):
    """Wikibooks Statics: sector about its axis of symmetry, r^4 (a - sin 2a / 2) / 4."""
    a = radians(degrees) / 2
    found = loop_moments(sector(1.0, -a, a))
    assert found.centroid == pytest.approx((from_center, 0.0), abs=1e-14)
    assert found.ix == pytest.approx(about_axis, rel=1e-13)


@pytest.mark.parametrize(
    ("degrees", "height"),
    [(60, 0.919935371122510), (90, 0.825871679024348), (120, 0.705020161898566)],
)
def test_segment_centroids(degrees, height):
    """Wikibooks Statics: 4 sin^3(a) / (3 (2a - sin 2a))."""
    assert loop_moments(segment(1.0, radians(degrees))).centroid == pytest.approx(
        (0.0, height), abs=1e-14
    )


def test_annulus_whole_and_half():
    """LibreTexts tables: R 5, r 3."""
    ring = section([([Circle((0, 0), 5)], False), ([Circle((0, 0), 3)], True)])
    assert ring.area == pytest.approx(50.2654824574367)
    assert ring.central[0] == pytest.approx(427.256600888212)
    assert ring.polar == pytest.approx(854.513201776424)
    half = loop_moments([
        Arc((0, 0), (5, 0), (-5, 0)), Line((-5, 0), (-3, 0)),
        Arc((0, 0), (-3, 0), (3, 0), ccw=False), Line((3, 0), (5, 0)),
    ])
    assert half.area == pytest.approx(8 * pi)
    assert half.centroid == pytest.approx((0.0, 2.59953073716762), abs=1e-14)


def test_obround_from_bulges():
    """Area from bulges as the DXF reference defines them: 40 + 4 pi."""
    obround = [
        Line((0.0, 0.0), (10.0, 0.0)), arc_from_bulge((10.0, 0.0), (10.0, 4.0), 1.0),
        Line((10.0, 4.0), (0.0, 4.0)), arc_from_bulge((0.0, 4.0), (0.0, 0.0), 1.0),
    ]
    found = loop_moments(obround)
    assert found.area == pytest.approx(52.5663706143592)
    assert found.perimeter == pytest.approx(20 + 4 * pi)
    assert found.centroid == pytest.approx((5.0, 2.0))
    assert found.central == pytest.approx((65.8997039476925, 766.725635973338, 0.0), abs=1e-10)


def test_plate_with_round_corners():
    curves = []
    for (x0, y0), (x1, y1), (cx, cy), (ex, ey) in [
        ((10, 0), (90, 0), (90, 10), (100, 10)), ((100, 10), (100, 50), (90, 50), (90, 60)),
        ((90, 60), (10, 60), (10, 50), (0, 50)), ((0, 50), (0, 10), (10, 10), (10, 0)),
    ]:
        curves += [Line((x0, y0), (x1, y1)), Arc((cx, cy), (x1, y1), (ex, ey))]
    found = loop_moments(curves)
    assert found.area == pytest.approx(5914.15926535898)
    assert found.perimeter == pytest.approx(302.831853071796)
    assert found.central[:2] == pytest.approx((1733517.68777757, 4803842.13954167))


# Machinery's Handbook, 31st ed., pp. 242-258, closed forms for structural sections.
ANGLE = [(0, 0), (100, 0), (100, 10), (10, 10), (10, 100), (0, 100)]
UNEQUAL = [(0, 0), (75, 0), (75, 10), (10, 10), (10, 100), (0, 100)]
CHANNEL = [(0, 0), (50, 0), (50, 10), (6, 10), (6, 90), (50, 90), (50, 100), (0, 100)]
TEE = [(45, 0), (55, 0), (55, 90), (100, 90), (100, 100), (0, 100), (0, 90), (45, 90)]


@pytest.mark.parametrize(
    ("corners", "area", "centroid", "ix", "iy"),
    [
        (ANGLE, 1900, (28.6842105263158, 28.6842105263158), 1800043.85964912, 1800043.85964912),
        (UNEQUAL, 1650, (19.7727272727273, 32.2727272727273), 1636477.27272727, 791164.772727273),
        (CHANNEL, 1480, (17.8648648648649, 50.0), 2289333.33333333, 366746.306306306),
        (TEE, 1900, (50.0, 71.3157894736842), 1800043.85964912, 840833.333333333),
    ],
)
def test_sections(corners, area, centroid, ix, iy):
    found = loop_moments(polygon(*corners))
    assert found.area == pytest.approx(area)
    assert found.centroid == pytest.approx(centroid)
    assert found.central[:2] == pytest.approx((ix, iy))


def test_product_moment_of_an_equal_angle():
    found = loop_moments(polygon(*ANGLE))
    assert found.central[2] == pytest.approx(-1065789.47368421)


@pytest.mark.parametrize(
    ("n", "area", "moment"),
    [
        (3, 0.433012701892219, 0.0180421959121758), (5, 1.72047740058897, 0.239550727252474),
        (6, 2.59807621135332, 0.541265877365274), (8, 4.82842712474619, 1.85947570824873),
        (12, 11.1961524227066, 9.97964607176052),
    ],
)
def test_regular_polygons(n, area, moment):
    """Machinery's Handbook, 31st ed., p. 78: regular polygons of side 1."""
    r = 0.5 / sin(pi / n)
    found = loop_moments(polygon(*regular(n, r)))
    assert found.area == pytest.approx(area)
    assert found.central[:2] == pytest.approx((moment, moment))


def test_textbook_composites():
    """Beer and Johnston, Vector Mechanics: Statics, chapter 5 (problems 5.1, 5.2, 5.6)."""
    first = section([(rectangle(-7, 4.5, -1, 13.5), False)])
    assert first.area == pytest.approx(54.0)
    one = section([(rectangle(-8, 6, 0, 12), False), (rectangle(0, 6, 16, 18), False)])
    assert one.area == pytest.approx(240.0)
    assert one.centroid[0] == pytest.approx((48 * -4 + 192 * 8) / 240)
    assert one.centroid[0] == pytest.approx(5.60)
    two = section([
        (polygon((0, 0), (60, 0), (60, 75)), False), (rectangle(60, 0, 165, 75), False),
    ])
    assert two.area == pytest.approx(10125.0)
    assert two.centroid == pytest.approx((96.3888889, 34.7222222))
    quarter = [Line((0, 0), (0, 9)), Arc((0, 0), (0, 9), (-9, 0)), Line((-9, 0), (0, 0))]
    six = section([(quarter, False), (polygon((0, 0), (15, 0), (0, 9)), False)])
    assert six.area == pytest.approx(131.117251)
    assert six.centroid == pytest.approx((0.720728959, 3.39772224))


def test_sample_problem_with_a_hole():
    """Beer and Johnston, Statics, sample problem 5.1 (statement from memory)."""
    outline = [
        Line((0, 0), (60, -60)), Line((60, -60), (120, 0)),
        Line((120, 0), (120, 80)), Arc((60, 80), (120, 80), (0, 80)), Line((0, 80), (0, 0)),
    ]
    triangle = [Line((0, 0), (0, -60)), Line((0, -60), (120, 0)), Line((120, 0), (0, 0))]
    body = [
        Line((0, 0), (120, 0)), Line((120, 0), (120, 80)),
        Arc((60, 80), (120, 80), (0, 80)), Line((0, 80), (0, 0)),
    ]
    found = section([(body, False), (triangle, False), ([Circle((60, 80), 40)], True)])
    assert found.area == pytest.approx(13828.3185307)
    assert found.centroid == pytest.approx((54.7932932, 36.6107768))
    assert signed_area(outline) == pytest.approx(9600 + 3600 + 1800 * pi)


def test_pappus():
    """Pappus: a semicircle turned about its diameter fills the sphere (any statics text)."""
    half = loop_moments([Arc((0, 0), (1, 0), (-1, 0)), Line((-1, 0), (1, 0))])
    assert 2 * pi * half.centroid[1] * half.area == pytest.approx(4 * pi / 3)
    tube = loop_moments([Circle((10.0, 0.0), 2.0)])
    assert 2 * pi * tube.centroid[0] * tube.area == pytest.approx(789.568352087149)


PLATE = [
    Line((0.0, 0.0), (60.0, 0.0)), Arc((60.0, 12.0), (60.0, 0.0), (72.0, 12.0)),
    Line((72.0, 12.0), (72.0, 40.0)), Arc((60.0, 40.0), (72.0, 40.0), (48.0, 40.0), ccw=False),
    Line((48.0, 40.0), (20.0, 52.0)), Line((20.0, 52.0), (0.0, 0.0)),
]


def test_chords_converge_to_the_exact_values_at_second_order():
    """shapely on polygons of ever shorter chords: the error falls by four when they halve."""
    exact = loop_moments(PLATE)
    errors = []
    for n in (32, 64, 128, 256):
        points = [point_at(c, k / n) for c in PLATE for k in range(n)]
        chorded = Polygon(points)
        center = shapely.centroid(chorded)
        errors.append((
            abs(chorded.area - exact.area),
            hypot(center.x - exact.centroid[0], center.y - exact.centroid[1]),
            abs(chorded.length - exact.perimeter),
        ))
    for coarse, fine in pairwise(errors):
        for a, b in zip(coarse, fine, strict=True):
            assert a / b == pytest.approx(4.0, rel=2e-3)
    assert errors[-1][0] < 1e-4 * exact.area


def test_digits_hold_far_from_the_origin_and_for_flat_arcs():
    here = loop_moments(PLATE)
    far = loop_moments([
        type(c)(*[(p[0] + 1e6, p[1] - 1e6) for p in (c.start, c.end)]) if isinstance(c, Line)
        else Arc((c.center[0] + 1e6, c.center[1] - 1e6), (c.start[0] + 1e6, c.start[1] - 1e6),
                 (c.end[0] + 1e6, c.end[1] - 1e6), c.ccw)
        for c in PLATE
    ])
    assert far.area == pytest.approx(here.area, rel=1e-11)
    assert far.central == pytest.approx(here.central, rel=1e-9)
    # A sagitta of 1e-6 on a chord of 1: area 2/3 of chord times height, to the first order.
    flat = arc_from_bulge((1.0, 0.0), (0.0, 0.0), 2e-6)
    assert flat.radius == pytest.approx(125000.0)
    assert loop_moments([flat, Line((0, 0), (1, 0))]).area == pytest.approx(2 / 3 * 1e-6, rel=1e-4)


def test_a_half_and_its_reflection():
    axis = Line((0.0, 0.0), (20.0, 52.0))
    whole = section([(PLATE, False), ([reflected(c, axis) for c in PLATE], False)])
    assert whole.area == pytest.approx(2 * loop_moments(PLATE).area)
    across = (whole.centroid[0] * 52.0 - whole.centroid[1] * 20.0) / sqrt(52.0**2 + 20.0**2)
    assert across == pytest.approx(0.0, abs=1e-11)
