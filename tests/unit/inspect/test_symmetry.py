"""The half against its axis."""

from __future__ import annotations

import re
from math import cos, radians, sin

import pytest

from sketcher.part.value import Mirror
from tests.plates import codes, looked_at, plate


def roof(angle: float = 90.0, lean: float = 0.0) -> object:
    """Half of a house on an axis through the origin, with a hole on the axis."""
    a = radians(angle)
    points = {name: (x * sin(a) + y * cos(a), -x * cos(a) + y * sin(a)) for name, (x, y) in {
        "p1": (0.0, 0.0), "p2": (20.0, lean), "p3": (20.0, 10.0), "p4": (0.0, 14.0),
        "c": (0.0, 6.0), "x1": (0.0, -5.0), "x2": (0.0, 25.0)}.items()}
    curves = {"e1": ("p1", "p2"), "e2": ("p2", "p3"), "e3": ("p3", "p4"), "h": ("c", 2.0),
              "ax": ("x1", "x2")}
    return looked_at(plate(points, curves, axis="ax", roles={"ax": "axis"}))


@pytest.mark.parametrize(
    ("angle", "off", "nearer"),
    [(90.0, 0.0, "plumb"), (0.0, 0.0, "level"), (180.0, 0.0, "level"), (87.0, 3.0, "plumb"),
     (10.0, 10.0, "level"), (175.0, 5.0, "level"), (50.0, 40.0, "plumb")],
)
def test_direction_of_the_axis(angle: float, off: float, nearer: str) -> None:
    symmetry = roof(angle).symmetries[0]  # type: ignore[attr-defined]
    assert symmetry.off_axis_deg == pytest.approx(off, abs=1e-9)
    assert symmetry.nearer == nearer


def test_what_lies_on_the_axis_and_where_the_halves_join() -> None:
    inspection = roof()
    symmetry = inspection.symmetries[0]  # type: ignore[attr-defined]
    assert symmetry.on_axis == ("h",)
    assert {(j.between, j.smooth) for j in symmetry.joints} == {
        (("e1", "e1'"), True), (("e3", "e3'"), False)
    }
    assert inspection.sound  # type: ignore[attr-defined]


def test_an_edge_that_crosses_the_axis_not_quite_square_is_a_corner() -> None:
    inspection = roof(lean=0.1)
    joint = next(
        j for j in inspection.symmetries[0].joints if j.between[0] == "e1"  # type: ignore[attr-defined]
    )
    assert not joint.smooth
    assert joint.angle_deg == pytest.approx(2 * 0.28647651, abs=1e-6)  # twice atan(0.1 / 20)
    assert codes(inspection) == ["near-tangent"]  # type: ignore[arg-type]


def test_an_edge_across_the_axis() -> None:
    points = {"p1": (-3.0, 0.0), "p2": (20.0, 0.0), "p3": (20.0, 10.0), "p4": (-3.0, 14.0),
              "x1": (0.0, -5.0), "x2": (0.0, 25.0)}
    curves = {"e1": ("p1", "p2"), "e2": ("p2", "p3"), "e3": ("p3", "p4"), "e4": ("p4", "p1"),
              "ax": ("x1", "x2")}
    inspection = looked_at(plate(points, curves, axis="ax", roles={"ax": "axis"}))
    assert inspection.symmetries[0].crossing == ("e1", "e3")
    assert "axis-crossing" in codes(inspection)


def test_a_hole_over_the_axis_crosses_its_reflection() -> None:
    points = {"p1": (0.0, 0.0), "p2": (20.0, 0.0), "p3": (20.0, 10.0), "p4": (0.0, 10.0),
              "c": (1.0, 5.0), "x1": (0.0, -5.0), "x2": (0.0, 25.0)}
    curves = {"e1": ("p1", "p2"), "e2": ("p2", "p3"), "e3": ("p3", "p4"), "h": ("c", 2.0),
              "ax": ("x1", "x2")}
    inspection = looked_at(plate(points, curves, axis="ax", roles={"ax": "axis"}))
    assert inspection.symmetries[0].crossing == ("h",)


def test_a_half_closed_along_the_axis_has_a_stray() -> None:
    points = {"p1": (0.0, 0.0), "p2": (20.0, 0.0), "p3": (20.0, 10.0), "p4": (0.0, 10.0)}
    curves = {"e1": ("p1", "p2"), "e2": ("p2", "p3"), "e3": ("p3", "p4"), "e4": ("p4", "p1"),
              "ax": ("p1", "p4")}
    inspection = looked_at(plate(points, curves, axis="ax", roles={"ax": "axis"}))
    assert codes(inspection) == ["stray"]
    assert re.findall(r"\b(?:ax|e\d)\b", inspection.findings[0].text) == ["e4", "ax"]
    assert inspection.profile.area == pytest.approx(400.0)


def test_an_end_that_stops_short_of_its_axis_is_told_with_how_far() -> None:
    points = {"p1": (0.02, 0.0), "p2": (20.0, 0.0), "p3": (20.0, 10.0), "p4": (0.0, 10.0),
              "x1": (0.0, -5.0), "x2": (0.0, 25.0)}
    curves = {"e1": ("p1", "p2"), "e2": ("p2", "p3"), "e3": ("p3", "p4"), "ax": ("x1", "x2")}
    inspection = looked_at(plate(points, curves, axis="ax", roles={"ax": "axis"}))
    (short,) = inspection.findings
    assert (short.code, short.ids) == ("off-axis", ("p1", "ax"))
    assert short.found == "0.02 mm short of it"
    gap = next(joint for joint in inspection.joints if joint.state == "gap")
    assert (gap.between, gap.gap) == (("e1", "e1'"), pytest.approx(0.04))


def test_one_sided_curves() -> None:
    points = {"p1": (0.0, 0.0), "p2": (20.0, 0.0), "p3": (20.0, 10.0), "p4": (0.0, 10.0),
              "c": (10.0, 5.0), "x1": (0.0, -5.0), "x2": (0.0, 25.0)}
    curves = {"e1": ("p1", "p2"), "e2": ("p2", "p3"), "e3": ("p3", "p4"), "h": ("c", 2.0),
              "ax": ("x1", "x2")}
    part = plate(points, curves, roles={"ax": "axis"})
    part = part.having(mirrors=(Mirror("ax", ("e1", "e2", "e3")),))
    inspection = looked_at(part)
    assert inspection.symmetries[0].one_sided == ("h",)
    assert inspection.sound


def test_two_axes() -> None:
    points = {"p1": (0.0, 10.0), "p2": (20.0, 10.0), "p3": (20.0, 0.0), "o": (0.0, 0.0)}
    curves = {"e1": ("p1", "p2"), "e2": ("p2", "p3"), "ax": ("o", "p1"), "ay": ("o", "p3")}
    part = plate(points, curves, roles={"ax": "axis", "ay": "axis"})
    part = part.having(mirrors=(Mirror("ax"), Mirror("ay")))
    inspection = looked_at(part)
    assert inspection.profile.area == pytest.approx(800.0)
    first, second = inspection.symmetries
    assert {j.between for j in first.joints} == {("e1", "e1'"), ("e1''", "e1'''")}
    assert {j.between for j in second.joints} == {("e2", "e2''"), ("e2'", "e2'''")}
    told = inspection.as_dict()["symmetry"]
    assert [other["axis"] for other in told["others"]] == ["ay"]  # type: ignore[index]


def test_no_mirror_no_symmetry() -> None:
    assert looked_at(plate({"c": (0.0, 0.0)}, {"h": ("c", 5.0)})).as_dict()["symmetry"] is None
