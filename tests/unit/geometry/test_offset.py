"""Offsets by hand; those against shapely stand with the outside checks."""

from __future__ import annotations

from itertools import pairwise
from math import asin, pi, radians, sqrt, tan

import pytest

from sketcher.errors import GeometryError
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.evaluate import joint_angle
from sketcher.geometry.moments import signed_area
from sketcher.geometry.offset_curves import around, offset, offset_curve
from tests.refusals import refused


def polygon(*corners):
    return [Line(a, b) for a, b in pairwise((*corners, corners[0]))]


SQUARE = polygon((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
CORNER = [Line((0.0, 0.0), (10.0, 0.0)), Line((10.0, 0.0), (10.0, 10.0))]


def test_single_curves():
    assert offset_curve(Line((0, 0), (4, 0)), 1.5) == Line((0, 1.5), (4, 1.5))
    quarter = Arc((0.0, 0.0), (3.0, 0.0), (0.0, 3.0))
    assert offset_curve(quarter, 1.0) == Arc((0.0, 0.0), (2.0, 0.0), (0.0, 2.0))
    assert offset_curve(quarter, -1.0) == Arc((0.0, 0.0), (4.0, 0.0), (0.0, 4.0))
    assert offset_curve(Circle((1.0, 1.0), 3.0), -2.0) == Circle((1.0, 1.0), 5.0)
    with refused("offset", GeometryError):
        offset_curve(quarter, 3.0)


def test_square_inwards_and_outwards():
    (inner,) = offset(SQUARE, 1.0)
    assert signed_area(inner.curves) == pytest.approx(64.0)
    assert inner.closed
    assert inner.sources == (0, 1, 2, 3)
    (outer,) = offset(SQUARE, -1.0)
    assert signed_area(outer.curves) == pytest.approx(100 + 40 + pi)
    assert sorted(outer.sources) == [0, 0, 1, 1, 2, 2, 3, 3]
    (sharp,) = offset(SQUARE, -1.0, join="mitre")
    assert signed_area(sharp.curves) == pytest.approx(144.0)
    assert len(sharp.curves) == 4
    assert offset(SQUARE, 5.1) == ()
    assert all(p.end == q.start for p, q in pairwise((*outer.curves, outer.curves[0])))


def test_mitre_limit():
    needle = polygon((0.0, 0.0), (20.0, 0.5), (0.0, 1.0))
    (run,) = offset(needle, -1.0, join="mitre")
    # The tip stands at 1 / sin(1.43 deg) = 40 offsets, and is rounded; the others are mitred.
    assert sum(isinstance(c, Arc) for c in run.curves) == 1


def test_open_run():
    (left,) = offset(CORNER, 1.0)
    assert left.curves == (Line((0.0, 1.0), (9.0, 1.0)), Line((9.0, 1.0), (9.0, 10.0)))
    assert not left.closed
    (right,) = offset(CORNER, -1.0)
    assert [type(c) for c in right.curves] == [Line, Arc, Line]
    assert right.curves[1].center == (10.0, 0.0)
    (sharp,) = offset(CORNER, -1.0, join="mitre")
    assert sharp.curves == (Line((0.0, -1.0), (11.0, -1.0)), Line((11.0, -1.0), (11.0, 10.0)))


def test_arc_that_vanishes_between_two_lines():
    rounded = [
        Line((0.0, 0.0), (8.0, 0.0)), Arc((8.0, 2.0), (8.0, 0.0), (10.0, 2.0)),
        Line((10.0, 2.0), (10.0, 10.0)),
    ]
    (small,) = offset(rounded, 1.0)
    assert [type(c) for c in small.curves] == [Line, Arc, Line]
    assert small.curves[1].radius == pytest.approx(1.0)
    assert joint_angle(small.curves[0], small.curves[1], small.curves[0].end) < 1e-12
    (sharp,) = offset(rounded, 3.0)
    assert [type(c) for c in sharp.curves] == [Line, Line]
    assert sharp.curves[0].end == pytest.approx((7.0, 3.0))
    assert sharp.sources == (0, 2)


def test_narrow_neck_pinches_the_offset_in_two():
    dumbbell = polygon(
        (0, 0), (10, 0), (10, 4), (20, 4), (20, 0), (30, 0), (30, 10), (20, 10), (20, 6), (10, 6),
        (10, 10), (0, 10),
    )
    assert len(offset(dumbbell, 0.9)) == 1
    two = offset(dumbbell, 1.5)
    assert len(two) == 2
    # Each chamber keeps a square of 7 and a bay towards the neck, up to the arcs of 1.5 about the
    # corners (10, 4) and (10, 6): twice the integral over t in (0, 1) of 1.5 - sqrt(1.5^2 - t^2).
    bay = 2.0 * (1.5 - 0.5 * sqrt(1.25) - 0.5 * 1.5**2 * asin(2.0 / 3.0))
    for run in two:
        assert signed_area(run.curves) == pytest.approx(49.0 + bay)


def test_around_a_line_is_an_obround():
    (slot,) = around([Line((0.0, 0.0), (10.0, 0.0))], 2.0)
    assert signed_area(slot.curves) == pytest.approx(40 + 4 * pi)
    assert sorted(type(c).__name__ for c in slot.curves) == ["Arc", "Arc", "Line", "Line"]
    path = [Line((0, 0), (10, 0)), Arc((10, 5), (10, 0), (15, 5))]
    (bent,) = around(path, 2.0)
    assert signed_area(bent.curves) == pytest.approx(4 * (10 + 2.5 * pi) + 4 * pi)
    assert set(bent.sources) == {0, 1}
    with refused("distance", GeometryError):
        around(path, 0.0)


def test_around_a_sharp_bend():
    (bend,) = around([Line((0, 0), (10, 0)), Line((10, 0), (10 - 5 * sqrt(2), 5 * sqrt(2)))], 1.0)
    assert bend.closed
    assert sum(isinstance(c, Arc) for c in bend.curves) == 3


def test_circles_and_nothing():
    assert offset([Circle((0, 0), 3)], 1.0)[0].curves == (Circle((0, 0), 2.0),)
    assert offset([Circle((0, 0), 3)], -1.0)[0].curves == (Circle((0, 0), 4.0),)
    assert offset([Circle((0, 0), 3)], 3.0) == ()
    assert offset([], 1.0) == ()
    assert offset(CORNER, 0.0)[0].curves == tuple(CORNER)


def test_mitre_between_a_line_and_an_arc_lengthens_both():
    run = [Line((-8.0, 0.0), (0.0, 0.0)), Arc((0.0, -10.0), (0.0, 0.0), (8.0, -4.0), ccw=False)]
    bent = [Line((-8.0, -3.0), (0.0, 0.0)), run[1]]
    (sharp,) = offset(bent, 1.0, join="mitre")
    line, arc = sharp.curves
    assert line.end == arc.start
    assert line.length > bent[0].length
    assert arc.radius == pytest.approx(11.0)
    assert (line.end[0] - 0.0) ** 2 + (line.end[1] + 10.0) ** 2 == pytest.approx(121.0)
    (smooth,) = offset(run, 1.0, join="mitre")
    assert [type(c) for c in smooth.curves] == [Line, Arc]


def test_mitre_next_to_a_vanished_arc_is_rounded():
    run = [
        Line((-9.0, 0.0), (0.0, 0.0)), Arc((0.5, 0.0), (0.0, 0.0), (1.0, 0.0)),
        Line((1.0, 0.0), (9.0, 0.0)),
    ]
    (over,) = offset(run, 2.0, join="mitre")
    # Over the notch the corners' own circles of 2 would dip, and the notch leaves no trace else.
    heights = [c.center[1] if isinstance(c, Arc) else c.start[1] for c in over.curves]
    assert heights[0] == heights[-1] == pytest.approx(2.0)
    arcs = [c for c in over.curves if isinstance(c, Arc)]
    assert [a.center for a in arcs] == [(0.0, 0.0), (1.0, 0.0)]


def test_arc_of_a_full_turn():
    turn = Arc((0.0, 0.0), (3.0, 0.0), (3.0, 0.0))
    (inner,) = offset([turn], 1.0)
    assert inner.closed
    assert signed_area(inner.curves) == pytest.approx(4 * pi)


def test_run_that_comes_back_on_itself_closes():
    spiral = [
        Line((0, 0), (20, 0)), Line((20, 0), (20, 6)), Line((20, 6), (8, 6)),
        Line((8, 6), (8, 1.5)), Line((8, 1.5), (0, 1.5)),
    ]
    (run,) = offset(spiral, 1.0)
    # The passage of 1.5 is too narrow; beside it the circle of 1 about (8, 1.5) leaves the integral
    # over t in (0, 0.5) of 1 - sqrt(1 - t^2).
    assert run.closed
    bay = 0.5 - 0.5 * (0.5 * sqrt(0.75) + asin(0.5))
    assert signed_area(run.curves) == pytest.approx(40.0 + bay)
    assert all(a.end == b.start for a, b in pairwise((*run.curves, run.curves[0])))


def test_pieces_cut_at_a_touch_come_together_again():
    # A bump comes down to exactly two offsets over the first leg: both offsets touch at (10, 1).
    bump = [
        Line((0, 0), (20, 0)), Line((20, 0), (20, 6)), Line((20, 6), (14, 6)),
        Arc((10, 6), (14, 6), (6, 6), ccw=False), Line((6, 6), (0, 6)),
    ]
    (run,) = offset(bump, 1.0)
    assert not run.closed
    assert run.sources == (0, 1, 2, 3, 4)
    assert run.curves[0] == Line((0.0, 1.0), (19.0, 1.0))
    assert run.curves[3].center == (10, 6)
    assert run.curves[3].radius == pytest.approx(5.0)


@pytest.mark.parametrize(("corner", "arcs"), [(30.0, 0), (28.0, 1)])
def test_a_mitre_reaches_four_offsets_from_its_corner(corner, arcs):
    # Its tip stands 1 / sin(corner / 2) offsets off: 3.86 and 4.13.
    half = 20.0 * tan(radians(corner) / 2.0)
    (run,) = offset(polygon((0.0, -half), (20.0, 0.0), (0.0, half)), -1.0, join="mitre")
    assert sum(isinstance(c, Arc) for c in run.curves) == arcs
