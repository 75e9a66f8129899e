"""Joints of the whole part: each state, the floor, images, and joints across the axis."""

from __future__ import annotations

from math import cos, degrees, dist, radians, sin, tau
from random import Random

import pytest

from sketcher.inspect import open_ends
from sketcher.inspect.joint_value import OutlineEnd, turn_between
from sketcher.inspect.joints import NEAR, Joint, paired
from sketcher.part.value import Binding
from tests.plates import codes, looked_at, plate, polygon, rectangle


def joint(inspection: object, *between: str) -> Joint:
    """The joint between two pieces."""
    found = [j for j in inspection.joints if set(j.between) == set(between)]  # type: ignore[attr-defined]
    assert len(found) == 1, found
    return found[0]


def bent(angle_deg: float) -> object:
    """Triangle-like plate whose lower edge breaks by an angle at (10, 0)."""
    a = radians(angle_deg)
    points, lines = polygon((0, 0), (10, 0), (10 + 10 * cos(a), 10 * sin(a)), (10, 15))
    return looked_at(plate(points, lines))


@pytest.mark.parametrize(
    ("angle", "state"),
    [(0.0, "tangent"), (0.5, "near-tangent"), (1.999, "near-tangent"), (2.001, "corner"),
     (30.0, "corner")],
)
def test_state_by_break_of_direction(angle: float, state: str) -> None:
    found = joint(bent(angle), "pe1", "pe2")
    assert found.state == state
    assert degrees(found.angle) == pytest.approx(angle, abs=1e-9)
    assert found.gap == 0.0
    assert degrees(NEAR) == pytest.approx(2.0)


def test_residual_of_two_lines_is_the_far_ends_offset() -> None:
    found = joint(bent(1.0), "pe1", "pe2")
    assert found.residual == pytest.approx(10.0 * sin(radians(1.0)), abs=1e-12)


def test_a_corner_has_no_residual() -> None:
    assert joint(bent(30.0), "pe1", "pe2").residual is None


def filleted(move: float = 0.0, *bound: str) -> object:
    """Square of 20 with one corner rounded by R5, the center moved down by some length."""
    points = {"p1": (0.0, 0.0), "p2": (15.0, 0.0), "p3": (20.0, 5.0), "p4": (20.0, 20.0),
              "p5": (0.0, 20.0), "c": (15.0, 5.0 - move)}
    curves = {"e1": ("p1", "p2"), "a1": ("p2", "p3", "c", "ccw"), "e2": ("p3", "p4"),
              "e3": ("p4", "p5"), "e4": ("p5", "p1")}
    bindings = [Binding("tangent", bound)] if bound else []
    return looked_at(plate(points, curves, *bindings))


def test_line_and_arc_tangent() -> None:
    found = joint(filleted(0.0, "e1", "a1"), "e1", "a1")
    assert (found.state, found.bound) == ("tangent", True)
    assert found.residual == pytest.approx(0.0, abs=1e-12)
    assert found.at == (15.0, 0.0)


def test_line_and_arc_residual_is_center_distance_less_radius() -> None:
    move = 0.05
    found = joint(filleted(move), "a1", "e2")
    # The arc keeps both its ends, so its radius is the mean of the two distances from the center.
    radius = 0.5 * ((5.0 - move) + (25.0 + move * move) ** 0.5)
    assert found.state == "near-tangent"
    assert found.residual == pytest.approx(5.0 - radius, abs=1e-12)
    assert found.angle == pytest.approx(move / 5.0, rel=1e-3)


def test_bound_and_off_is_a_finding_of_its_own() -> None:
    inspection = filleted(0.05, "e2", "a1")
    assert not joint(inspection, "e2", "a1").holds
    assert "off-tangent" in codes(inspection)
    assert "near-tangent" not in codes(inspection)


def test_floor_follows_the_shorter_lever() -> None:
    found = joint(filleted(), "e1", "a1")
    assert found.floor == pytest.approx(20e-9 * (1 / 15 + 1 / 5), rel=1e-6)
    # A break just above the floor is seen, one below is not.
    above, below = (degrees(f * 20e-9 * (1 / 10 + 1 / 10)) for f in (1.5, 0.5))
    assert joint(bent(above), "pe1", "pe2").state == "near-tangent"
    assert joint(bent(below), "pe1", "pe2").state == "tangent"


def gapped(dx: float, dy: float) -> object:
    """Square of 20 whose last corner stays open by (dx, dy)."""
    points = {"p1": (0.0, 0.0), "p2": (20.0, 0.0), "p3": (20.0, 20.0), "p4": (0.0, 20.0),
              "q": (dx, dy)}
    curves = {"e1": ("p1", "p2"), "e2": ("p2", "p3"), "e3": ("p3", "p4"), "e4": ("p4", "q")}
    return looked_at(plate(points, curves))


def test_gap() -> None:
    inspection = gapped(0.0, 0.03)
    found = joint(inspection, "e1", "e4")
    assert (found.state, found.residual) == ("gap", None)
    assert found.gap == pytest.approx(0.03)
    assert found.at == pytest.approx((0.0, 0.015))
    assert codes(inspection)[0] == "gap"


def test_overrun_is_measured_from_the_crossing() -> None:
    points = {"p1": (-0.02, 0.0), "p2": (20.0, 0.0), "p3": (20.0, 20.0), "p4": (0.0, 20.0),
              "q": (0.0, -0.05)}
    curves = {"e1": ("p1", "p2"), "e2": ("p2", "p3"), "e3": ("p3", "p4"), "e4": ("p4", "q")}
    found = joint(looked_at(plate(points, curves)), "e1", "e4")
    assert found.state == "overrun"
    assert found.gap == pytest.approx(0.05)
    assert found.at == pytest.approx((0.0, 0.0), abs=1e-12)


def test_ends_within_the_tolerance_are_one_place() -> None:
    found = joint(gapped(0.0, 1e-9), "e1", "e4")
    assert found.state == "corner"
    assert found.gap == pytest.approx(1e-9)


def test_an_end_near_the_middle_of_a_curve() -> None:
    points, lines = rectangle(40.0, 20.0)
    points |= {"s1": (20.0, 10.0), "s2": (20.0, 0.4)}
    inspection = looked_at(plate(points, {**lines, "s": ("s1", "s2")}))
    found = joint(inspection, "s", "pe1")
    assert (found.state, found.gap) == ("gap", pytest.approx(0.4))
    assert "stray" in codes(inspection)


def test_far_ends_are_open_and_not_a_gap() -> None:
    inspection = gapped(0.0, 10.0)
    assert [j.state for j in inspection.joints] == ["corner"] * 3  # type: ignore[attr-defined]
    assert codes(inspection).count("open") == 2


def test_joints_of_the_reflection_and_across_the_axis() -> None:
    points = {"p1": (0.0, 0.0), "p2": (20.0, 0.0), "p3": (20.0, 10.0), "p4": (0.0, 14.0),
              "x1": (0.0, -5.0), "x2": (0.0, 25.0)}
    curves = {"e1": ("p1", "p2"), "e2": ("p2", "p3"), "e3": ("p3", "p4"), "ax": ("x1", "x2")}
    inspection = looked_at(plate(points, curves, axis="ax", roles={"ax": "axis"}))
    assert joint(inspection, "e1", "e1'").state == "tangent"
    roof = joint(inspection, "e3", "e3'")
    assert roof.state == "corner"
    # The roof falls by 4 over 20 to both sides: the break is twice the slope.
    assert roof.angle == pytest.approx(2.0 * 0.19739555984988078, abs=1e-12)  # atan(1/5)
    assert joint(inspection, "e1'", "e2'").state == "corner"
    assert len(inspection.joints) == 6


def test_a_bound_pair_stays_bound_in_its_images() -> None:
    points = {"p1": (0.0, 0.0), "p2": (15.0, 0.0), "p3": (20.0, 5.0), "p4": (20.0, 20.0),
              "p5": (0.0, 20.0), "c": (15.0, 5.0)}
    curves = {"e1": ("p1", "p2"), "a1": ("p2", "p3", "c", "ccw"), "e2": ("p3", "p4"),
              "e3": ("p4", "p5"), "ax": ("p1", "p5")}
    part = plate(points, curves, Binding("tangent", ("e1", "a1")), axis="ax", roles={"ax": "axis"})
    inspection = looked_at(part)
    assert joint(inspection, "e1'", "a1'").bound
    assert not joint(inspection, "a1'", "e2'").bound
    assert inspection.profile.closed


def test_a_curve_and_the_image_of_another_are_not_bound_by_the_drawn_pair() -> None:
    # A line from the axis runs tangent into an arc that returns to the same place on the axis.
    points = {"p1": (0.0, 0.0), "p2": (12.0, 9.0), "c": (9.0, 13.0), "p3": (5.0, 10.0)}
    curves = {"e1": ("p1", "p2"), "a1": ("p2", "p3", "c", "ccw"), "e2": ("p3", "p1"),
              "ax": ("p1", "c")}
    part = plate(points, curves, Binding("tangent", ("e1", "a1")),
                 Binding("tangent", ("e2", "a1")))
    assert joint(looked_at(part), "e1", "a1").bound
    points |= {"x1": (0.0, -5.0), "x2": (0.0, 25.0)}
    curves["ax"] = ("x1", "x2")
    half = plate(points, curves, Binding("tangent", ("e1", "a1")), axis="ax", roles={"ax": "axis"})
    for found in looked_at(half).joints:
        marks = {name.removeprefix(name.rstrip("'")) for name in found.between}
        sources = {name.rstrip("'") for name in found.between}
        assert found.bound == (sources == {"e1", "a1"} and len(marks) == 1)


def test_four_ends_at_one_place_pair_smoothly() -> None:
    points = {"m": (0.0, 0.0), "a": (-10.0, 0.0), "b": (10.0, 0.0), "c": (0.0, -10.0),
              "d": (0.0, 10.0)}
    curves = {"e1": ("a", "m"), "e2": ("m", "b"), "e3": ("c", "m"), "e4": ("m", "d")}
    inspection = looked_at(plate(points, curves))
    pairs = [set(j.between) for j in inspection.joints if j.gap == 0.0]
    assert pairs == [{"e1", "e2"}, {"e3", "e4"}]


def test_a_spike_is_a_finding() -> None:
    points, lines = polygon((0, 0), (20, 0), (10, 0.01), (10, 10), (0, 10))
    inspection = looked_at(plate(points, lines))
    assert "fold" in codes(inspection)


def test_circles_have_no_joints() -> None:
    assert looked_at(plate({"c": (0.0, 0.0)}, {"h": ("c", 5.0)})).joints == ()


def test_a_thousand_ends_at_one_place_are_paired_with_those_opposite() -> None:
    ways = [(cos(k * tau / 1001), sin(k * tau / 1001)) for k in range(1001)]
    ends = [OutlineEnd(k, (0.0, 0.0), way) for k, way in enumerate(ways)]
    pairs, left = paired(ends)
    assert len(pairs) == 500
    assert len(left) == 1
    assert len({end.piece for pair in pairs for end in pair} | {left[0].piece}) == 1001
    assert max(turn_between(*pair) for pair in pairs) <= 2.0 * tau / 1001


@pytest.mark.parametrize("order", [(0, 1, 2, 3), (0, 2, 1, 3), (3, 1, 0, 2), (2, 3, 1, 0)])
def test_where_four_ends_meet_those_that_run_on_belong_together(order: tuple[int, ...]) -> None:
    ways = [(9.0, 0.0), (-8.0, 0.5), (1.0, 7.0), (0.0, -6.0)]
    points = {"o": (0.0, 0.0)} | {f"p{k}": ways[k] for k in order}
    part = plate(points, {f"e{k}": ("o", f"p{k}") for k in order})
    pairs = {frozenset(joint.between) for joint in looked_at(part).joints}
    assert pairs == {frozenset(("e0", "e1")), frozenset(("e2", "e3"))}


@pytest.mark.parametrize(("share", "states"), [(0.045, {"gap"}), (0.055, set())])
def test_ends_belong_together_within_a_twentieth_of_the_size(share: float, states: set) -> None:
    inspection = gapped(0.0, share * 20.0)
    assert {j.state for j in inspection.joints} - {"corner"} == states  # type: ignore[attr-defined]


def comb(teeth: int, gap: float) -> object:
    """Short lines that stand over a bar, all their ends open."""
    points = {"p1": (0.0, 0.0), "p2": (10.0 * teeth, 0.0)}
    curves: dict[str, tuple[str, ...]] = {"bar": ("p1", "p2")}
    for k in range(1, teeth):
        points |= {f"a{k}": (10.0 * k, gap), f"b{k}": (10.0 * k, 9.0)}
        curves[f"t{k}"] = (f"a{k}", f"b{k}")
    return looked_at(plate(points, curves))


def test_each_of_many_open_ends_goes_to_its_nearest_curve(monkeypatch: pytest.MonkeyPatch) -> None:
    found = comb(15, 0.3).joints  # type: ignore[attr-defined]
    assert [set(j.between) for j in found if "bar" in j.between] == [
        {f"t{k}", "bar"} for k in range(1, 15)]
    assert [j.gap for j in found if "bar" in j.between] == pytest.approx([0.3] * 14)
    monkeypatch.setattr(open_ends, "TOLD", 7)
    few = comb(15, 0.3)
    assert few.joints == found[:7]  # type: ignore[attr-defined]
    # What is not described is still told: alone, and so with both of its ends.
    assert {"gap", "stray"} <= set(codes(few))
    named = {name for finding in few.findings for name in finding.ids}  # type: ignore[attr-defined]
    assert {f"t{k}" for k in range(1, 15)} <= named
    monkeypatch.setattr(open_ends, "ASKED", 0)
    assert len(comb(15, 0.3).joints) < 14  # type: ignore[attr-defined]


def test_partners_are_the_mutually_nearest_ends_whatever_the_reach() -> None:
    """Beside all distances of all pairs; ends of one piece are no partners."""
    random = Random(5)
    ends = [OutlineEnd(k // 2, (random.uniform(0.0, 9.0), random.uniform(0.0, 9.0)), (1.0, 0.0))
            for k in range(120)]
    for reach in (0.01, 0.2, 3.0, 20.0):
        near = [min(((dist(a.at, b.at), j) for j, b in enumerate(ends) if b.piece != a.piece
                     and dist(a.at, b.at) <= reach), default=(0.0, -1))[1] for a in ends]
        wanted = [j if j >= 0 and near[j] == i else -1 for i, j in enumerate(near)]
        assert open_ends._partners(ends, reach) == wanted
