"""Ends of a mirrored half off its axis: one finding, told before all that follows from it."""

from __future__ import annotations

import pytest

from sketcher.inspect.inspection import Inspection
from sketcher.part.value import Part
from tests.plates import looked_at, plate

LINES = {"e1": ("p1", "p2"), "e2": ("p2", "p3"), "e3": ("p3", "p4"), "ax": ("a", "b")}


def half(low: float, high: float, side: float = 1.0, **more: tuple[float, float]) -> Part:
    """A half of 30 by 40 whose lower and upper end lie at these distances right of its axis."""
    points = {"p1": (low, 0.0), "p2": (30.0, 0.0), "p3": (30.0, 40.0), "p4": (high, 40.0),
              "a": (0.0, -5.0), "b": (0.0, 45.0), **more}
    holes = {"h": ("c", 4.0)} if "c" in more else {}
    return plate({name: (side * x, y) for name, (x, y) in points.items()}, {**LINES, **holes},
                 roles={"ax": "axis"}, axis="ax")


def told(inspection: Inspection) -> list[tuple[str, str]]:
    return [(finding.code, finding.text) for finding in inspection.findings]


@pytest.mark.parametrize("side", [1.0, -1.0])
def test_ends_past_the_axis_are_one_finding(side: float) -> None:
    inspection = looked_at(half(-3.0, -3.0, side))
    assert told(inspection) == [("off-axis", "p1 and p4 lie 3 mm past the axis ax")]
    (finding,) = inspection.findings
    assert finding.ids == ("p1", "p4", "ax")
    assert finding.at == (side * -3.0, 0.0)


@pytest.mark.parametrize("side", [1.0, -1.0])
def test_an_end_short_of_the_axis_is_one_finding(side: float) -> None:
    assert told(looked_at(half(2.0, 0.0, side))) == [
        ("off-axis", "p1 lies 2 mm short of the axis ax")]


def test_ends_that_are_off_differently_are_told_together() -> None:
    assert told(looked_at(half(-3.0, 1.0))) == [
        ("off-axis", "p1 lies 3 mm past the axis ax, p4 lies 1 mm short of it")]


def test_holes_of_a_half_that_is_open_are_not_told_to_lie_off_the_plate() -> None:
    assert [code for code, _ in told(looked_at(half(-3.0, -3.0, c=(15.0, 20.0))))] == ["off-axis"]


def test_it_comes_before_what_is_loose_which_is_where_it_lies() -> None:
    codes = [code for code, _ in told(looked_at(half(-3.0, -3.0), freedoms=2))]
    assert codes == ["off-axis", "loose"]


def test_what_has_another_cause_is_still_told() -> None:
    apart = half(-3.0, -3.0)
    apart = apart.having(
        points={**apart.points, "q": (30.0, 38.0)},
        curves={**apart.curves, "e2": apart.curves["e2"].__class__(("p2", "q"))})
    assert ("off-axis" in (codes := {code for code, _ in told(looked_at(apart))}))
    assert "gap" in codes
    over = half(-3.0, -3.0, c=(2.0, 20.0))  # a circle across the axis
    assert {code for code, _ in told(looked_at(over))} >= {"off-axis", "axis-crossing", "crossing"}


def test_a_curve_on_both_sides_of_the_axis_is_told_as_one() -> None:
    codes = {code for code, _ in told(looked_at(half(-12.0, 0.0)))}
    assert "off-axis" not in codes
    assert "axis-crossing" in codes


def test_an_end_far_from_the_axis_is_an_open_end() -> None:
    codes = {code for code, _ in told(looked_at(half(12.0, 0.0)))}
    assert "off-axis" not in codes
    assert "open" in codes


def test_a_half_on_its_axis_is_sound() -> None:
    assert told(looked_at(half(0.0, 0.0))) == []
