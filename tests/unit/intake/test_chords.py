"""Chords become the arcs that they were cut from; polygons stay polygons."""

from __future__ import annotations

from dataclasses import replace
from math import cos, dist, pi, radians, sin, tau
from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.inspect.sketched import solve_sketch
from sketcher.intake.chords import chords_to_arcs
from sketcher.intake.linework import Linework, TakenCurve
from sketcher.intake.wishes import Wishes
from sketcher.part.store import load
from sketcher.part.whole import whole
from tests.chords import facet
from tests.demo_parts import SOUND
from tests.drawn import drawn, lines_through, plain, told

Round = Arc | Circle


def rounds_of(path: Path) -> list[Curve]:
    """Return the outline of a demo part."""
    return [piece.curve for piece in whole(solve_sketch(load(path)).part)
            if piece.role == "outline"]


def cut(curves: list[Curve], sagitta: float, decimals: int) -> Linework:
    """Return curves as chords, their ends written with so many decimals."""
    lines: list[Curve] = []
    for curve in curves:
        places = [(x, y) for x, y in np.round(facet(curve, sagitta), decimals).tolist()]
        lines += lines_through(*places, close=False)
    return drawn(*lines, quantum=10.0 ** -decimals)


def errors(meant: list[Curve], found: list[Curve]) -> list[float]:
    """For each round that was meant, how far off in radius the nearest of those found is."""
    rounds = [curve for curve in found if not isinstance(curve, Line)]
    off = []
    for curve in meant:
        if isinstance(curve, Line):
            continue
        near = [other for other in rounds
                if dist(other.center, curve.center) < 0.2 * curve.radius]
        off.append(min((abs(other.radius - curve.radius) for other in near), default=float("inf")))
    return off


@pytest.mark.parametrize(("decimals", "most"), [(4, 4.6e-3), (3, 3e-2)])
@pytest.mark.parametrize("sagitta", [0.01, 0.1])
@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.name.split(".")[0])
def test_demo_parts_come_back(path: Path, sagitta: float, decimals: int, most: float) -> None:
    if load(path).unit == "in":  # as many of its own
        sagitta, decimals, most = sagitta / 25.4, decimals + 1, most / 25.4
    meant = [curve for curve in rounds_of(path)
             if isinstance(curve, Line) or len(facet(curve, sagitta)) > 3]
    made = chords_to_arcs(cut(meant, sagitta, decimals), Wishes())
    assert max(errors(meant, plain(made))) <= most
    assert not made.questions


def corner(sagitta: float) -> Linework:
    """Return a fillet of R9 between two lines, cut into chords."""
    return cut([Line((0.0, -9.0), (0.0, 0.0)), Arc((-9.0, 0.0), (0.0, 0.0), (-9.0, 9.0)),
                Line((-9.0, 9.0), (-30.0, 9.0))], sagitta, 4)


def test_two_chords_stay_as_they_are() -> None:
    lines = corner(0.8)
    assert len(lines.curves) == 2 + 2
    assert plain(chords_to_arcs(lines, Wishes())) == plain(lines)


def test_three_chords_are_an_arc_where_both_neighbors_go_on() -> None:
    lines = corner(0.4)
    assert len(lines.curves) == 2 + 3
    found = plain(chords_to_arcs(lines, Wishes()))
    assert [type(curve) for curve in found] == [Line, Arc, Line]
    assert errors([Arc((-9.0, 0.0), (0.0, 0.0), (-9.0, 9.0))], found)[0] <= 1e-3


@pytest.mark.parametrize("first", range(16))
def test_four_corners_of_three_chords(first: int) -> None:
    """A rounded plate, wherever its first line is; its straight sides differ."""
    places: list[XY] = []
    for n, (x, y) in enumerate([(40.0, 20.0), (5.0, 20.0), (5.0, 5.0), (40.0, 5.0)]):
        angles = [(n + k / 3.0) * 0.5 * pi for k in range(4)]
        places += [(round(x + 5.0 * cos(angle), 4), round(y + 5.0 * sin(angle), 4))
                   for angle in angles]
    lines = lines_through(*places[first:], *places[:first])
    found = plain(chords_to_arcs(drawn(*lines, quantum=1e-4), Wishes()))
    radii = [curve.radius for curve in found if isinstance(curve, Arc)]
    assert radii == pytest.approx([5.0] * 4, abs=1e-3)
    assert len(found) == 8


@pytest.mark.parametrize("turns", [
    (22.5, 22.5, 22.5, 22.5), (15.0, 30.0, 30.0, 25.0), (35.0, 30.0, 30.0, 15.0),
    (10.0, 30.0, 30.0, 10.0)])
def test_three_edges_that_break_from_their_neighbors_stay(turns: tuple[float, ...]) -> None:
    """A corner taken off in even edges: an arc would turn by half as much at its ends."""
    places: list[XY] = [(0.0, 0.0), (20.0, 0.0)]
    way = 0.0
    for turn, long in zip(turns, (5.0, 5.0, 5.0, 20.0), strict=True):
        way += radians(turn)
        places.append((places[-1][0] + long * cos(way), places[-1][1] + long * sin(way)))
    lines = drawn(*lines_through(*places, close=False), quantum=1e-4)
    assert plain(chords_to_arcs(lines, Wishes())) == plain(lines)


def polygon(count: int, radius: float = 10.0, turn: float = 0.1) -> list[Curve]:
    """Return the edges of a regular polygon."""
    angles = [turn + k * tau / count for k in range(count)]
    return lines_through(*((radius * cos(angle), radius * sin(angle)) for angle in angles))


def wheel(teeth: int) -> list[Curve]:
    """Return a wheel with straight teeth."""
    return lines_through(*(
        (radius * cos(angle), radius * sin(angle)) for k in range(teeth)
        for angle, radius in ((tau * (k - 0.2) / teeth, 20.0), (tau * (k + 0.2) / teeth, 20.0),
                              (tau * (k + 0.3) / teeth, 18.0), (tau * (k + 0.7) / teeth, 18.0))))


POLYGONS: dict[str, list[Curve]] = {
    "hexagon": polygon(6), "octagon": polygon(8), "dodecagon": polygon(12), "wheel": wheel(24),
    "zigzag": lines_through(*((float(k), float(k % 2)) for k in range(30)), close=False),
    "staircase": lines_through(*((float((k + 1) // 2), float(k // 2)) for k in range(30)),
                               close=False),
    "row": lines_through(*((float(k), 0.0) for k in range(30)), close=False),
}
PLATE: list[Curve] = [
    Line((0.0, -30.0), (80.0, -30.0)), Arc((80.0, -20.0), (80.0, -30.0), (90.0, -20.0)),
    Line((90.0, -20.0), (90.0, 60.0)), Line((90.0, 60.0), (0.0, 60.0)),
    Line((0.0, 60.0), (0.0, -30.0))]
"""Its one fillet, cut to 0.01, tells how this file's arcs are cut."""


@pytest.mark.parametrize("beside", [False, True])
@pytest.mark.parametrize("name", POLYGONS)
def test_polygons_stay(name: str, beside: bool) -> None:
    curves = POLYGONS[name]
    others = plain(cut(PLATE, 0.01, 4)) if beside else []
    found = plain(chords_to_arcs(drawn(*curves, *others, quantum=1e-4), Wishes()))
    assert found[:len(curves)] == curves
    assert sum(isinstance(curve, Arc) for curve in found) == beside


def test_doubtful_polygon_is_asked_about_and_answered() -> None:
    lines = drawn(*polygon(12), quantum=1e-4)
    asked = chords_to_arcs(lines, Wishes())
    assert [question.option for question in asked.questions] == ["--chord"]
    no, yes = asked.questions[0].answers
    assert plain(chords_to_arcs(lines, Wishes(chord=float(no)))) == polygon(12)
    (circle,) = plain(chords_to_arcs(lines, Wishes(chord=float(yes))))
    assert isinstance(circle, Circle)
    assert circle.radius == pytest.approx(10.0, abs=1e-9)


def test_small_circle_is_known_by_the_other_arcs_of_its_file() -> None:
    hole = Circle((30.0, 10.0), 2.25)  # cut to 0.1 it has eleven edges
    found = plain(chords_to_arcs(cut([*PLATE, hole], 0.1, 4), Wishes()))
    assert [type(curve) for curve in found].count(Circle) == 1


def test_chords_of_a_polyline_are_refused_run_by_run() -> None:
    ends = ((0.0, 9.0), (0.0, -9.0))
    disc: list[Curve] = [Arc((0.0, 0.0), *ends), Line(ends[1], (40.0, -9.0)),
                         Arc((40.0, 0.0), (40.0, -9.0), (40.0, 9.0)), Line((40.0, 9.0), ends[0])]
    alone = cut(disc, 0.1, 4)
    lines = replace(alone, curves=tuple(TakenCurve(each.curve, (12,)) for each in alone.curves))
    assert told(chords_to_arcs(lines, Wishes())) == [("chords-12", True), ("chords-12b", True)]
    one = chords_to_arcs(lines, Wishes(keep=frozenset({"chords-12b"})))
    assert told(one) == [("chords-12", True), ("chords-12b", False)]
    assert sum(isinstance(curve, Arc) for curve in plain(one)) == 1


def test_refused_chords_stay_and_are_told() -> None:
    lines = cut(PLATE, 0.01, 4)
    name = chords_to_arcs(lines, Wishes()).repairs[0].name
    refused = chords_to_arcs(lines, Wishes(keep=frozenset({name})))
    assert (plain(refused), told(refused)) == (plain(lines), [(name, False)])


def test_bend_one_way_and_the_other_becomes_two_arcs() -> None:
    bend: list[Curve] = [
        Line((-20.0, 0.0), (0.0, 0.0)), Arc((0.0, 10.0), (0.0, 0.0), (10.0, 10.0)),
        Arc((20.0, 10.0), (20.0, 20.0), (10.0, 10.0)), Line((20.0, 20.0), (40.0, 20.0))]
    there = [*plain(cut(bend[:2], 0.02, 4)),
             *lines_through(*((x, y) for x, y in
                              np.round(facet(bend[2], 0.02), 4).tolist()[::-1]), close=False),
             bend[3]]
    found = plain(chords_to_arcs(drawn(*there, quantum=1e-4), Wishes()))
    assert [type(curve) for curve in found] == [Line, Arc, Arc, Line]
    assert [curve.radius for curve in found if isinstance(curve, Arc)] == pytest.approx(
        [10.0, 10.0], abs=2e-3)


def test_equal_fillets_with_one_line_between_are_no_free_curve() -> None:
    corners = [(40.0, 0.0), (40.0, 25.0), (0.0, 25.0), (0.0, 0.0)]
    places = [(x + 6.0 * cos(a), y + 6.0 * sin(a)) for k, (x, y) in enumerate(corners)
              for a in np.linspace((k - 1) * pi / 2.0, k * pi / 2.0, 6).tolist()]
    lines = drawn(*lines_through(*np.round(places, 4).tolist()), quantum=1e-4)
    found = plain(chords_to_arcs(lines, Wishes()))
    assert [curve.radius for curve in found if isinstance(curve, Arc)] == pytest.approx(
        [6.0] * 4, abs=1e-3)
    assert len(found) == 8


@pytest.mark.parametrize("count", [100, 417, 3000])
def test_ellipse_stays_as_it_is(count: int) -> None:
    places = [(30.0 * cos(t), 12.0 * sin(t)) for t in np.linspace(0.0, tau, count)[:-1].tolist()]
    lines = drawn(*lines_through(*np.round(places, 4).tolist()), quantum=1e-4)
    assert not any(isinstance(curve, Arc | Circle)
                   for curve in plain(chords_to_arcs(lines, Wishes())))


@given(st.floats(1.0, 200.0), st.floats(0.6, 6.0), st.floats(0.0, tau), st.integers(0, 30),
       st.sampled_from([3, 4, 6]), st.booleans())
def test_any_arc_between_tangent_lines_comes_back(
    radius: float, sweep: float, phase: float, more: int, decimals: int, ccw: bool,
) -> None:
    count = max(5, int(sweep / radians(45.0)) + 1) + more
    sign = 1.0 if ccw else -1.0
    angles = [phase + sign * sweep * k / count for k in range(count + 1)]
    arc: list[XY] = [(radius * cos(t), radius * sin(t)) for t in angles]

    def beyond(at: XY, angle: float, way: float) -> XY:
        return (at[0] - way * sin(angle) * 3.0 * radius, at[1] + way * cos(angle) * 3.0 * radius)

    places = [beyond(arc[0], angles[0], -sign), *arc, beyond(arc[-1], angles[-1], sign)]
    quantum = 10.0 ** -decimals
    assume(radius * (1.0 - cos(0.5 * sweep / count)) > quantum)  # none cuts finer than it writes
    rounded = [(x, y) for x, y in np.round(places, decimals).tolist()]
    found = plain(chords_to_arcs(drawn(*lines_through(*rounded, close=False), quantum=quantum),
                                 Wishes()))
    (got,) = [curve for curve in found if isinstance(curve, Arc)]
    assert len(found) == 3
    assert got.ccw == ccw
    # An error of the ends grows by one over the rise of the arc, as its center does.
    assert abs(got.radius - radius) <= 2.0 * quantum / (1.0 - cos(min(0.5 * sweep, 0.5 * pi)))
