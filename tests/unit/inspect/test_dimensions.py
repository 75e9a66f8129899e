"""Dimensions against value and limits; references as far as they are printed."""

from __future__ import annotations

from dataclasses import replace
from math import radians, tan

import pytest

from sketcher.part.value import Binding, Drawing
from tests.plates import codes, looked_at, plate, polygon, rectangle


def row(binding: Binding, width: float = 40.0, **fields: object) -> object:
    """The one dimension of a rectangle whose lower edge has some width."""
    points, lines = rectangle(width, 20.0)
    return looked_at(plate(points, lines, binding, **fields))


def run(
    value: str | None, drives: bool = True, tolerance: tuple[float, float] | None = None
) -> Binding:
    return Binding("run", ("p1", "p2"), value, drives=drives, tolerance=tolerance)


def test_a_dimension_that_holds() -> None:
    inspection = row(run("40"))
    found = inspection.dimensions[0]  # type: ignore[attr-defined]
    assert (found.wanted, found.actual, found.residual, found.within) == (40.0, 40.0, 0.0, True)
    assert found.limits == pytest.approx((39.7, 40.3))  # ISO 2768-1 class m, over 30 up to 120
    assert codes(inspection) == []  # type: ignore[arg-type]


def test_a_driving_dimension_off_its_value() -> None:
    inspection = row(run("40"), width=40.001)
    found = inspection.dimensions[0]  # type: ignore[attr-defined]
    assert found.residual == pytest.approx(0.001)
    assert found.within
    assert codes(inspection) == ["off-dimension"]  # type: ignore[arg-type]


def test_own_limits_outrank_the_general_ones() -> None:
    found = row(run("40", tolerance=(-0.2, 0.1))).dimensions[0]  # type: ignore[attr-defined]
    assert found.limits == pytest.approx((39.8, 40.1))
    assert found.own_limits


def test_limits_that_leave_the_value_out() -> None:
    inspection = row(run("40", tolerance=(0.2, 0.1)))
    assert codes(inspection) == ["off-limits"]  # type: ignore[arg-type]
    assert inspection.findings[0].wanted == "40.1 mm to 40.2 mm"  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("value", "width", "within"),
    [
        ("34.6", 34.641, True),
        ("34.6", 34.66, False),
        ("34.64", 34.641, True),
        ("34.64", 34.646, False),
        ("35", 34.641, False),
        ("35", 35.004, True),
        ("30 + 5", 35.006, False),
    ],
)
def test_a_reference_agrees_as_far_as_it_is_printed(value: str, width: float, within: bool) -> None:
    inspection = row(run(value, drives=False), width=width)
    assert inspection.dimensions[0].within is within  # type: ignore[attr-defined]
    assert codes(inspection) == ([] if within else ["reference-differs"])  # type: ignore[arg-type]


def test_a_reference_with_its_own_limits() -> None:
    inspection = row(run("35", drives=False, tolerance=(0.5, -0.5)), width=35.4)
    assert inspection.dimensions[0].limits == (34.5, 35.5)  # type: ignore[attr-defined]
    assert codes(inspection) == []  # type: ignore[arg-type]


@pytest.mark.parametrize("width", [35.0, 34.641, 7.0])
def test_a_reference_without_a_value_follows(width: float) -> None:
    inspection = row(run(None, drives=False), width=width)
    (found,) = inspection.dimensions  # type: ignore[attr-defined]
    assert (found.actual, found.wanted, found.within) == (width, width, True)
    assert codes(inspection) == []  # type: ignore[arg-type]


def test_no_limits_when_the_drawing_gives_none() -> None:
    inspection = row(run("40"), drawing=replace(Drawing(), tolerance="none"))
    assert inspection.dimensions[0].limits is None  # type: ignore[attr-defined]


def test_an_angle_is_judged_by_what_a_misplaced_end_turns() -> None:
    points, lines = rectangle(40.0, 20.0)
    points["p3"] = (40.0 + 20.0 * 1e-6, 20.0)  # the right edge leans by 1e-6 rad
    inspection = looked_at(plate(points, lines, Binding("angle", ("pe2",), "90")))
    assert codes(inspection) == ["off-dimension"]
    points["p3"] = (40.0 + 20.0 * 1e-9, 20.0)
    assert codes(looked_at(plate(points, lines, Binding("angle", ("pe2",), "90")))) == []


def test_a_binding_without_value_that_does_not_hold() -> None:
    points, lines = rectangle(40.0, 20.0)
    points["p2"] = (40.0, 0.01)
    inspection = looked_at(plate(points, lines, Binding("level", ("pe1",))))
    assert codes(inspection) == ["off-binding"]
    assert inspection.conditions[0].residual == pytest.approx(0.01)


def test_inches_have_their_own_general_limits() -> None:
    inspection = row(run("1.50"), width=1.5, unit="in")
    # Title block: two decimals, plus and minus .01 (common practice, no source).
    assert inspection.dimensions[0].limits == pytest.approx((1.49, 1.51))  # type: ignore[attr-defined]


@pytest.mark.parametrize(("off", "within"), [(0.0045, True), (0.0055, False)])
def test_a_reference_angle_agrees_to_half_its_usual_last_place(off: float, within: bool) -> None:
    points, lines = polygon((0, 0), (40, 0), (40, 40 * tan(radians(45.0 + off))))
    ref = Binding("angle", ("pe1", "pe3"), "45", drives=False)
    found = looked_at(plate(points, lines, ref)).dimensions[0]
    assert found.actual - 45.0 == pytest.approx(off)
    assert found.within is within


@pytest.mark.parametrize(("off", "within"), [(0.00045, True), (0.00055, False)])
def test_a_reference_in_inches_agrees_to_half_a_thousandth(off: float, within: bool) -> None:
    inspection = row(run("1-1/2", drives=False), width=1.5 + off, unit="in")
    assert inspection.dimensions[0].within is within  # type: ignore[attr-defined]
