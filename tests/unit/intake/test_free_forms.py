"""Chords of free curves become arcs that go on tangent; scipy and closed forms say how near."""

from __future__ import annotations

from itertools import pairwise
from math import cos, pi, sin, tau

import numpy as np
import pytest
from scipy.interpolate import BSpline

from sketcher.exchange.dxf_content import DxfContent, FileCurve
from sketcher.geometry.curves import XY, Arc, Curve, Line
from sketcher.geometry.evaluate import end_of, joint_angle, start_of
from sketcher.geometry.moments import signed_area
from sketcher.intake.free_forms import free_forms_to_arcs
from sketcher.intake.linework import Linework
from sketcher.intake.take_in import take_in
from sketcher.intake.wishes import Wishes
from tests.drawn import drawn, lines_through, plain, told
from tests.unit.intake.test_chords import POLYGONS

A, B = 30.0, 12.0
ELLIPSE: list[XY] = [(A * cos(t), B * sin(t)) for t in np.linspace(0.0, tau, 101)[:-1].tolist()]
WAVES = BSpline(np.arange(-3.0, 24.0), np.array(
    [(r * cos(t), r * sin(t)) for t, r in zip(
        np.arange(23) * tau / 20, [50, 38, 52, 41, 47, 36, 55, 40, 49, 37] * 2 + [50, 38, 52],
        strict=True)]), 3)
"""A closed curve that bends both ways: the control points go round once."""


def wavy(count: int) -> list[XY]:
    return [(x, y) for x, y in WAVES(np.linspace(0.0, 20.0, count + 1)[:-1]).tolist()]


def breaks(curves: list[Curve]) -> list[float]:
    """Breaks of the joints of a closed contour, radians."""
    found = []
    for one, other in pairwise([*curves, curves[0]]):
        assert end_of(one) == pytest.approx(start_of(other), abs=1e-12)
        found.append(abs(joint_angle(one, other, end_of(one))))
    return found


def test_a_cut_ellipse_has_its_area_again_and_no_joint_that_breaks() -> None:
    lines = drawn(*lines_through(*ELLIPSE))
    arcs = plain(free_forms_to_arcs(lines, Wishes(chord=0.1)))
    assert len(arcs) < len(ELLIPSE)
    assert max(breaks(arcs)) < 1e-6
    assert signed_area(arcs) == pytest.approx(pi * A * B, rel=5e-5)
    assert signed_area(plain(lines)) == pytest.approx(pi * A * B * (1 - 6.6e-4), rel=1e-5)


@pytest.mark.parametrize("count", [90, 200])
def test_arcs_lie_by_the_curve_that_was_cut(count: int) -> None:
    lines = drawn(*lines_through(*wavy(count)))
    arcs = plain(free_forms_to_arcs(lines, Wishes(chord=0.5)))
    assert max(breaks(arcs)) < 1e-6
    places = WAVES(np.linspace(0.0, 20.0, 20_000))
    x, y = places.T
    area = 0.5 * float((x[:-1] * y[1:] - x[1:] * y[:-1]).sum())
    assert signed_area(arcs) == pytest.approx(area, rel=5e-5)
    if count == 90:  # finer chords lie as near as the arcs do, which are within 0.01
        assert abs(signed_area(plain(lines)) - area) > 4.0 * abs(signed_area(arcs) - area)


def taken(places: list[XY], wishes: Wishes):
    return take_in(DxfContent("wave", tuple(
        FileCurve(curve, n) for n, curve in enumerate(lines_through(*places), 1)), "mm"), wishes)


def test_near_tangent_edges_are_asked_about_and_the_answer_leaves_none() -> None:
    places = [(round(x, 6), round(y, 6)) for x, y in wavy(90)]
    asked = taken(places, Wishes())
    assert any("look in line" in text for part in asked.parts for text in part.findings)
    (question,) = [each for each in asked.questions if each.option == "--chord"]
    assert question.text.startswith("90 short edges")
    no, yes = question.answers
    (left,) = taken(places, Wishes(chord=float(no))).parts
    assert left.findings == asked.parts[0].findings
    (made,) = taken(places, Wishes(chord=float(yes))).parts
    assert made.findings == ()
    assert made.faults == ()
    assert not any(isinstance(curve, Line) for curve in made.part.curves.values())
    (repair,) = made.repairs
    assert repair.name == "curve-1-2"
    assert made.bound.largest_move <= repair.size * 1.001


def test_edges_that_go_on_into_the_curve_stay_and_are_tangent() -> None:
    half = [(x + 40.0, y) for x, y in
            ((A * cos(t), B * sin(t)) for t in np.linspace(-0.5 * pi, 0.5 * pi, 41).tolist())]
    lines = drawn(*lines_through((0.0, -B), *half, (0.0, B)))
    curves = plain(free_forms_to_arcs(lines, Wishes(chord=0.1)))
    straight = [curve for curve in curves if isinstance(curve, Line)]
    assert straight == [Line((0.0, -B), half[0]), Line(half[-1], (0.0, B)),
                        Line((0.0, B), (0.0, -B))]
    assert sum(one > 1e-6 for one in breaks(curves)) == 2  # the corners on the left
    assert signed_area(curves) == pytest.approx(80.0 * B + 0.5 * pi * A * B, rel=5e-5)


def test_a_corner_stays() -> None:
    drop = [(20.0 * sin(t) * sin(0.5 * t) ** 2, -30.0 * cos(t))
            for t in np.linspace(0.0, tau, 81)[:-1].tolist()]
    curves = plain(free_forms_to_arcs(drawn(*lines_through(*drop)), Wishes(chord=0.5)))
    corners = [one for one in breaks(curves) if one > 1e-6]
    assert len(corners) == 1
    assert all(isinstance(curve, Arc) for curve in curves)


def test_refused_it_stays_and_is_told() -> None:
    lines = drawn(*lines_through(*ELLIPSE))
    refused = free_forms_to_arcs(lines, Wishes(chord=0.1, keep=frozenset({"curve-1-2"})))
    assert (plain(refused), told(refused)) == (plain(lines), [("curve-1-2", False)])


def zigzag() -> list[Curve]:
    return lines_through(*((float(k), 0.4 * (k % 2)) for k in range(20)), (19.0, -9.0), (0.0, -9.0))


@pytest.mark.parametrize("curves", [*POLYGONS.values(), zigzag()],
                         ids=[*POLYGONS, "zigzag"])
@pytest.mark.parametrize("chord", [None, 0.02])
def test_polygons_stay_and_are_not_asked_about(curves: list[Curve], chord: float | None) -> None:
    lines: Linework = drawn(*curves, quantum=1e-4)
    found = free_forms_to_arcs(lines, Wishes(chord=chord))
    assert (plain(found), found.questions) == (plain(lines), ())
