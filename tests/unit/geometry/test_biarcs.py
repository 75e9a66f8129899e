"""Free curves as arcs: measured by dense sampling, against the curve's own points."""

from __future__ import annotations

from itertools import pairwise
from math import pi

import numpy as np
import pytest
import shapely

from sketcher.geometry.biarcs import biarc, furthest, spline_arcs
from sketcher.geometry.curves import Arc, Line
from sketcher.geometry.evaluate import joint_angle, point_at
from sketcher.geometry.spline import Spline, ellipse_spline

WAVE = Spline(3, (0, 0, 0, 0, 1, 2, 3, 3, 3, 3),
              ((0, 0), (10, 30), (30, -30), (50, 40), (60, 0), (80, 5)))
CORNER = Spline(2, (0, 0, 0, 1, 1, 2, 2, 2), ((0, 0), (5, 5), (10, 0), (15, -5), (10, -10)))
WRIGGLE = Spline(3, (0, 0, 0, *range(60), 59, 59, 59),
                 tuple((10.0 * k, 7.0 * ((k * k) % 5)) for k in range(62)))
ELLIPSE = ellipse_spline((3, 4), (50, 0), (0, 20), 0.0, 2 * pi)


def chords(pieces: list[Line | Arc]) -> shapely.LineString:
    """The pieces in chords so short that they stand off by less than 1e-4."""
    return shapely.LineString([
        point_at(piece, t) for piece in pieces for t in np.linspace(0.0, 1.0, 40)])


@pytest.mark.parametrize("curve", [WAVE, CORNER, ELLIPSE], ids=["wave", "corner", "ellipse"])
@pytest.mark.parametrize("within", [1.0, 0.01, 1e-3])
def test_arcs_lie_within_what_is_asked_both_ways(curve: Spline, within: float) -> None:
    pieces = spline_arcs(curve, within)
    places, _ = curve.at(np.linspace(*curve.span, 3_000))
    apart = shapely.hausdorff_distance(shapely.LineString(places), chords(pieces))
    assert apart <= within + 1e-4  # both are chords: 0.06 long, and of an arc's 40th
    assert furthest(curve, pieces) == pytest.approx(
        max(shapely.distance(shapely.points(places[::10]), chords(pieces))),
        abs=2e-2 * within + 2e-4)


@pytest.mark.parametrize("curve", [WAVE, ELLIPSE])
def test_arcs_go_on_tangent(curve: Spline) -> None:
    pieces = spline_arcs(curve, 0.01)
    assert all(a.end == b.start for a, b in pairwise(pieces))
    assert max(abs(joint_angle(a, b, a.end)) for a, b in pairwise(pieces)) < 1e-6
    if curve is ELLIPSE:
        assert pieces[-1].end == pieces[0].start


def test_a_corner_stays() -> None:
    pieces = spline_arcs(CORNER, 0.01)
    (joint,) = [(a, b) for a, b in pairwise(pieces)
                if a.end == pytest.approx((10.0, 0.0), abs=1e-12)]
    assert abs(joint_angle(*joint, joint[0].end)) < 1e-6  # its polygon runs straight there
    bent = Spline(1, (0, 0, 1, 2, 2), ((0, 0), (5, 5), (10, 0)))
    assert spline_arcs(bent, 0.01) == [Line((0.0, 0.0), (5.0, 5.0)), Line((5.0, 5.0), (10.0, 0.0))]


def test_few_arcs_follow_an_ellipse_and_mirror_as_it_does() -> None:
    pieces = spline_arcs(ELLIPSE, 0.01)
    # The error of a pair falls with the third power of its length (Bolton, from memory): a
    # thousandth needs ten times as many.
    assert len(pieces) <= 56
    assert 5.0 <= len(spline_arcs(ELLIPSE, 1e-5)) / len(pieces) <= 12.0
    centers = {tuple(np.round(piece.center, 6)) for piece in pieces if isinstance(piece, Arc)}
    assert {(round(6.0 - x, 6), y) for x, y in centers} == centers
    assert {(x, round(8.0 - y, 6)) for x, y in centers} == centers


def test_a_circle_as_a_spline_is_arcs_of_its_radius() -> None:
    circle = ellipse_spline((0, 0), (5, 0), (0, 5), 0.0, 2 * pi)
    pieces = spline_arcs(circle, 0.01)
    assert [type(piece) for piece in pieces] == [Arc] * 8
    assert all(piece.radius == pytest.approx(5.0, abs=1e-12) for piece in pieces
               if isinstance(piece, Arc))


def test_a_straight_one_is_a_line_and_one_without_length_is_nothing() -> None:
    knots = (0, 0, 0, 0, 1, 1, 1, 1)
    straight = Spline(3, knots, ((0, 0), (1, 1), (2, 2), (6, 6)))
    assert spline_arcs(straight, 0.01) == [Line((0.0, 0.0), (6.0, 6.0))]
    assert spline_arcs(Spline(3, knots, ((1, 1),) * 4), 0.01) == []


def test_a_biarc_leaves_and_arrives_as_asked() -> None:
    first, last = biarc((0, 0), (1, 0), (10, 4), (0.6, 0.8))
    assert first.end == last.start
    assert abs(joint_angle(first, last, first.end)) < 1e-12
    for piece, at, way in ((first, first.start, (1.0, 0.0)), (last, last.end, (0.6, 0.8))):
        assert isinstance(piece, Arc)
        radius = np.subtract(at, piece.center)
        assert radius @ np.array(way) == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("curve", [ELLIPSE, WRIGGLE], ids=["ellipse", "wriggle"])
def test_the_work_grows_with_the_arcs_and_not_with_their_square(
    curve: Spline, monkeypatch: pytest.MonkeyPatch
) -> None:
    looks: list[int] = []
    at = Spline.at

    def counted(of: Spline, t: np.ndarray, before: bool = False):
        looks.append(len(t))
        return at(of, t, before)

    monkeypatch.setattr(Spline, "at", counted)
    each = []
    for within in (0.01, 1e-6):
        looks.clear()
        pieces = spline_arcs(curve, within)
        each.append(sum(looks) / len(pieces))
    assert len(pieces) > 800  # sixteen times as many as at first
    assert each[1] < 2.0 * each[0]
