"""Joints that nearly are tangent become so; what is a corner, or would move too far, stays."""

from __future__ import annotations

from math import cos, degrees, radians, sin

import pytest

from sketcher.geometry.curves import Arc, Curve, Line
from sketcher.geometry.evaluate import end_of, joint_angle, midpoint, start_of
from sketcher.geometry.project import distance
from sketcher.intake.linework import Shape, TakenCurve
from sketcher.intake.near_tangent import made_tangent
from sketcher.intake.wishes import Wishes


def bowl(lean: float, radius: float = 10.0) -> list[Curve]:
    """Half a disc on a block, whose sides lean by so many degrees against the half disc's ends."""
    off = 30.0 * sin(radians(lean))
    down = -30.0 * cos(radians(lean))
    left, right = (-radius - off, down), (radius + off, down)
    return [Arc((0.0, 0.0), (radius, 0.0), (-radius, 0.0)), Line((-radius, 0.0), left),
            Line(left, right), Line(right, (radius, 0.0))]


def shape(curves: list[Curve], noise: float = 1e-5) -> Shape:
    return Shape((tuple(TakenCurve(curve, (n,)) for n, curve in enumerate(curves, 1)),), (),
                 "mm", 2.0 * noise, noise)


def breaks(found: Shape) -> list[float]:
    """Angles of the joints beside the arc, in degrees."""
    arc, first, _, last = (each.curve for each in found.loops[0])
    return [degrees(joint_angle(line, arc, at)) for line, at in ((first, first.start),
                                                                 (last, last.end))]


@pytest.mark.parametrize("lean", [0.05, 0.1])
def test_a_joint_that_nearly_is_tangent_becomes_so(lean: float) -> None:
    before = shape(bowl(lean))
    found = made_tangent(before, Wishes())
    assert breaks(before) == pytest.approx([lean, lean], abs=1e-9)
    assert breaks(found) == pytest.approx([0.0, 0.0], abs=1e-6)
    assert [(r.kind, r.taken) for r in found.repairs] == [("tangent", True)] * 2
    told = max(repair.size for repair in found.repairs)
    assert 30.0 * sin(radians(lean)) / 8.0 < told <= 0.05  # the sides come half way or less
    strayed = max(distance(b.curve, place) for a, b in zip(before.loops[0], found.loops[0],
                                                            strict=True)
                  for place in (start_of(a.curve), midpoint(a.curve), end_of(a.curve)))
    assert told == pytest.approx(strayed, rel=1e-9)
    for one, other in zip(found.loops[0], (*found.loops[0][1:], found.loops[0][0]), strict=True):
        assert one.curve.end == other.curve.start  # nothing came apart


def test_more_than_two_degrees_are_a_corner() -> None:
    before = shape(bowl(2.1))
    assert made_tangent(before, Wishes(gap=10.0)) == before


def test_less_than_two_degrees_move_within_the_gap_or_stay() -> None:
    before = shape(bowl(1.9))  # the sides would have to move by half a millimetre and more
    kept = made_tangent(before, Wishes())
    assert kept.loops == before.loops
    assert {repair.taken for repair in kept.repairs} == {False}
    wide = made_tangent(before, Wishes(gap=5.0))
    assert breaks(wide) == pytest.approx([0.0, 0.0], abs=1e-6)


def test_what_the_noise_explains_is_no_repair() -> None:
    before = shape(bowl(0.01), noise=0.01)
    assert made_tangent(before, Wishes()) == before


@pytest.mark.parametrize("word", ["tangent", "tangent-1-2"])
def test_it_is_refused_by_kind_and_by_name(word: str) -> None:
    before = shape(bowl(0.1))
    found = made_tangent(before, Wishes(keep=frozenset({word})))
    refused = [repair.name for repair in found.repairs if not repair.taken]
    assert "tangent-1-2" in refused
    assert breaks(found)[0] == pytest.approx(0.1, abs=0.05)


def test_corners_of_lines_are_no_business_of_it() -> None:
    corners = [(0.0, 0.0), (30.0, 0.0), (60.0, 0.5), (60.0, 40.0), (0.0, 40.0)]
    lines: list[Curve] = [Line(p, q) for p, q in
                          zip(corners, [*corners[1:], corners[0]], strict=True)]
    assert made_tangent(shape(lines), Wishes()) == shape(lines)


def test_a_chain_of_arcs_is_solved_together() -> None:
    """An S of two arcs between lines: its three joints become tangent and stay joined."""
    first, second = Arc((0.0, 10.0), (0.0, 0.0), (10.0, 10.0)), Arc(
        (20.0, 10.003), (20.0, 20.004), (10.0, 10.0))
    curves: list[Curve] = [
        Line((-20.0, -0.02), (0.0, 0.0)), first, Arc((20.0, 10.003), (10.0, 10.0), (20.0, 20.004),
                                                     False),
        Line((20.0, 20.004), (40.0, 20.03)), Line((40.0, 20.03), (40.0, -15.0)),
        Line((40.0, -15.0), (-20.0, -15.0)), Line((-20.0, -15.0), (-20.0, -0.02))]
    assert second.radius == pytest.approx(10.0, abs=0.01)
    found = made_tangent(shape(curves), Wishes()).loops[0]
    for n in range(3):
        a, b = found[n].curve, found[n + 1].curve
        assert a.end == b.start
        assert degrees(joint_angle(a, b, b.start)) == pytest.approx(0.0, abs=1e-6)
