"""Chords of a hand-in taken as arcs; a polygon's vertices lie on its circle by definition."""

from __future__ import annotations

from itertools import pairwise
from math import cos, pi, sin

import pytest

from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.marking.drawn_chords import drawn_features
from tests.unit.marking.by_hand import chords, compared, gate_strap


def rounded_plate(fillet: list[Curve]) -> list[Curve]:
    """A plate of 100 by 60 with one corner rounded R10 as given."""
    return [Line((0.0, 0.0), (90.0, 0.0)), *fillet, Line((100.0, 10.0), (100.0, 60.0)),
            Line((100.0, 60.0), (0.0, 60.0)), Line((0.0, 60.0), (0.0, 0.0))]


CORNER = Arc((90.0, 10.0), (90.0, 0.0), (100.0, 10.0))


@pytest.mark.parametrize("count", [3, 4, 9, 90])
@pytest.mark.parametrize("decimals", [12, 3])
def test_chords_between_edges_are_the_arc_that_both_go_on_into(count: int, decimals: int) -> None:
    drawn = [Line((round(c.start[0], decimals), round(c.start[1], decimals)),
                  (round(c.end[0], decimals), round(c.end[1], decimals)))
             for c in chords(CORNER, count)]
    found = drawn_features(rounded_plate(drawn), 0.01)
    assert len(found) == 5
    arc = next(each for each in found if not each.is_line)
    assert isinstance(arc.curve, Arc)
    assert arc.curve.radius == pytest.approx(10.0, abs=0.01)
    assert arc.curve.center == pytest.approx((90.0, 10.0), abs=0.02)
    assert arc.sources == tuple(range(1, count + 1))
    assert arc.ends == ((1, 0), (count, 1))


def test_ends_of_chords_that_run_the_other_way_are_theirs() -> None:
    drawn = [Line(c.end, c.start) for c in reversed(chords(CORNER, 6))]
    arc = next(f for f in drawn_features(rounded_plate(drawn), 0.01) if not f.is_line)
    assert arc.ends == ((6, 1), (1, 0))


def test_a_ring_of_fine_chords_is_a_circle_and_a_hexagon_is_none() -> None:
    ring = drawn_features(chords(Circle((5.0, 7.0), 4.0), 36), 0.01)
    assert [each.curve for each in ring] == [Circle(pytest.approx((5.0, 7.0)), pytest.approx(4.0))]
    assert len(drawn_features(chords(Circle((5.0, 7.0), 4.0), 8), 0.01)) == 8


def test_coarse_chords_are_a_circle_where_the_key_has_that_circle() -> None:
    coarse = chords(Circle((5.0, 7.0), 4.0), 12)
    assert len(drawn_features(coarse, 0.01, radii=[4.005])) == 1
    assert len(drawn_features(coarse, 0.01, radii=[4.02])) == 12


def test_specks_are_no_features() -> None:
    speck = [Line((50.0, 30.0), (50.0, 30.0)), Line((3.0, 3.0), (3.008, 3.0))]
    assert len(drawn_features([*rounded_plate([CORNER]), *speck], 0.01)) == 5
    short = Line((3.0, 3.0), (3.012, 3.0))
    assert len(drawn_features([*rounded_plate([CORNER]), short], 0.01)) == 6


def test_a_free_curve_in_chords_stays_chords() -> None:
    places = [(40.0 * cos(k * pi / 40.0), 20.0 * sin(k * pi / 40.0)) for k in range(41)]
    ellipse = [Line(a, b) for a, b in pairwise(places)]
    assert len(drawn_features(ellipse, 0.01)) == 40


def test_the_outline_keeps_the_chords_and_the_features_have_the_arc() -> None:
    drawn = gate_strap()
    curves = [*(c for name, c in drawn.items() if name != "fillet"), *chords(drawn["fillet"], 16)]
    comparison = compared("gate-strap", curves)
    assert not comparison.matching.wrong(0.01)
    assert len(comparison.outline) == len(curves)
    assert sum(len(each.sources) == 16 for each in comparison.features) == 1
