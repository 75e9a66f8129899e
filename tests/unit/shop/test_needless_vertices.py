"""Vertices that are none go, corners stay."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import cos, pi, sin, tau

import pytest

from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.geometry.moments import signed_area
from sketcher.shop.cut_plan import CutContour
from sketcher.shop.needless_vertices import without_needless_vertices

TOL = 1e-9


def contour(*curves: Curve) -> CutContour:
    return CutContour(tuple(f"e{k}" for k in range(len(curves))), curves, False, 0)


def polygon(*places: tuple[float, float]) -> CutContour:
    return contour(*(Line(a, b) for a, b in pairwise((*places, places[0]))))


def ring(count: int, sweep: float = tau, center: tuple[float, float] = (1.0, 2.0)) -> list[Arc]:
    """So many arcs round one circle of radius 3, from the right on."""
    angles = [sweep * k / count for k in range(count + 1)]
    places = [(center[0] + 3.0 * cos(a), center[1] + 3.0 * sin(a)) for a in angles]
    if sweep == tau:
        places[-1] = places[0]
    return [Arc(center, a, b) for a, b in pairwise(places)]


def test_a_line_in_pieces_becomes_one_and_its_ids_stay() -> None:
    found = without_needless_vertices(
        polygon((0, 0), (3, 0), (7, 0), (10, 0), (10, 5), (0, 5)), TOL)
    assert found.curves == (Line((0, 0), (10, 0)), Line((10, 0), (10, 5)),
                            Line((10, 5), (0, 5)), Line((0, 5), (0, 0)))
    assert found.ids == ("e0+e1+e2", "e3", "e4", "e5")


def test_a_line_across_the_start_becomes_one_too() -> None:
    found = without_needless_vertices(polygon((5, 0), (10, 0), (10, 5), (0, 5), (0, 0)), TOL)
    assert found.curves[0] == Line((0, 0), (10, 0))
    assert found.ids == ("e4+e0", "e1", "e2", "e3")


def test_arcs_of_one_circle_become_one() -> None:
    arcs = ring(3, pi)
    found = without_needless_vertices(contour(*arcs, Line(arcs[-1].end, arcs[0].start)), TOL)
    assert found.ids == ("e0+e1+e2", "e3")
    assert found.curves[0] == Arc((1.0, 2.0), arcs[0].start, arcs[-1].end)
    # half of a disc of radius 3
    assert signed_area(found.curves) == pytest.approx(4.5 * pi, rel=1e-12)


@pytest.mark.parametrize("count", [2, 3, 7])
def test_arcs_all_round_never_become_a_full_turn(count: int) -> None:
    """A polyline cannot say it; the circle itself is found from the inspection's contour."""
    found = without_needless_vertices(contour(*ring(count)), TOL)
    assert len(found.curves) == 2
    assert signed_area(found.curves) == pytest.approx(9.0 * pi, rel=1e-12)


def test_a_circle_and_a_contour_without_seams_are_left_alone() -> None:
    round_hole = contour(Circle((0.0, 0.0), 2.0))
    square = polygon((0, 0), (1, 0), (1, 1), (0, 1))
    assert without_needless_vertices(round_hole, TOL) is round_hole
    assert without_needless_vertices(square, TOL) is square


@pytest.mark.parametrize("off", [2e-9, 1e-3])
def test_a_corner_beyond_the_tolerance_stays(off: float) -> None:
    bent = polygon((0, 0), (5, -off), (10, 0), (10, 5), (0, 5))
    assert without_needless_vertices(bent, TOL) is bent
    assert len(without_needless_vertices(bent, 2.0 * off).curves) == (4 if off < 1e-6 else 5)


def test_a_spike_and_arcs_that_turn_the_other_way_stay() -> None:
    spike = polygon((0, 0), (8, 0), (5, 0), (5, 5), (0, 5))
    assert without_needless_vertices(spike, TOL) is spike
    wave = contour(Arc((0.0, 0.0), (-1.0, 0.0), (1.0, 0.0), ccw=False),
                   Arc((2.0, 0.0), (1.0, 0.0), (3.0, 0.0)),
                   Line((3.0, 0.0), (3.0, -4.0)), Line((3.0, -4.0), (-1.0, -4.0)),
                   Line((-1.0, -4.0), (-1.0, 0.0)))
    assert without_needless_vertices(wave, TOL) is wave


def test_slow_drift_off_the_line_is_seen() -> None:
    """Each joint is within the tolerance, all of them together are not."""
    places = [(float(k), 0.3e-9 * k * k) for k in range(21)]
    found = without_needless_vertices(polygon(*places, (20, 30), (0, 30)), TOL)
    assert 4 < len(found.curves) < 23
    for line in found.curves[:-3]:
        assert isinstance(line, Line)
        a, b = line.start[0], line.end[0]
        assert 0.3e-9 * (b - a) ** 2 / 4.0 <= TOL * 1.0001  # the sagitta of a parabola


def test_ids_that_do_not_go_with_the_curves_are_left_alone() -> None:
    odd = replace(polygon((0, 0), (3, 0), (10, 0), (10, 5)), ids=("a", "b"))
    assert without_needless_vertices(odd, TOL) is odd
