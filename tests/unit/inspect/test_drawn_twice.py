"""A curve drawn twice is told as an overlap with both ids, and as nothing else."""

from __future__ import annotations

import pytest

from sketcher.part.value import GridPattern, Part, frozen
from tests.plates import Row, codes, looked_at, plate, polygon, rectangle

XY = tuple[float, float]
POINTS, LINES = rectangle(40.0, 20.0)
SLOT_POINTS: dict[str, XY] = {"a": (0.0, 0.0), "b": (40.0, 0.0), "c": (40.0, 20.0),
                              "d": (0.0, 20.0), "m": (40.0, 10.0), "n": (0.0, 10.0)}
SLOT: dict[str, Row] = {"s1": ("a", "b"), "s2": ("b", "c", "m", "ccw"), "s3": ("c", "d"),
                        "s4": ("d", "a", "n", "ccw")}


def on_plate(points: dict[str, XY], curves: dict[str, Row]) -> Part:
    return plate({**POINTS, **points}, {**LINES, **curves})


def on_slot(points: dict[str, XY], curves: dict[str, Row]) -> Part:
    return plate({**SLOT_POINTS, **points}, {**SLOT, **curves})


TWICE: dict[str, tuple[Part, set[frozenset[str]]]] = {
    "line between the same points": (
        on_plate({}, {"z": ("p1", "p2")}), {frozenset({"pe1", "z"})}),
    "line with points of its own": (
        on_plate({"u": (0.0, 0.0), "v": (40.0, 0.0)}, {"z": ("u", "v")}),
        {frozenset({"pe1", "z"})}),
    "line the other way": (
        on_plate({"u": (40.0, 0.0), "v": (0.0, 0.0)}, {"z": ("u", "v")}),
        {frozenset({"pe1", "z"})}),
    "piece amid a line": (
        on_plate({"u": (5.0, 0.0), "v": (30.0, 0.0)}, {"z": ("u", "v")}),
        {frozenset({"pe1", "z"})}),
    "piece that ends nearly at the corners": (
        on_plate({"u": (0.5, 0.0), "v": (39.5, 0.0)}, {"z": ("u", "v")}),
        {frozenset({"pe1", "z"})}),
    "piece from a corner on": (
        on_plate({"v": (30.0, 0.0)}, {"z": ("p1", "v")}), {frozenset({"pe1", "z"})}),
    "two pieces over each other": (
        on_plate({"u": (21.0, 0.0), "v": (19.0, 0.0)}, {"y": ("p1", "u"), "z": ("v", "p2")}),
        {frozenset({"pe1", "y"}), frozenset({"pe1", "z"}), frozenset({"y", "z"})}),
    "two pieces end to end but for a little": (
        on_plate({"u": (19.5, 0.0), "v": (20.5, 0.0)}, {"y": ("p1", "u"), "z": ("v", "p2")}),
        {frozenset({"pe1", "y"}), frozenset({"pe1", "z"})}),
    "circle": (
        on_plate({"c": (20.0, 10.0), "d": (20.0, 10.0)}, {"y": ("c", 4.0), "z": ("d", 4.0)}),
        {frozenset({"y", "z"})}),
    "arc over a circle": (
        on_plate({"c": (20.0, 10.0), "u": (24.0, 10.0), "v": (20.0, 14.0)},
                 {"y": ("c", 4.0), "z": ("u", "v", "c", "ccw")}), {frozenset({"y", "z"})}),
    "arc": (on_slot({}, {"z": ("b", "c", "m", "ccw")}), {frozenset({"s2", "z"})}),
    "arc the other way": (on_slot({}, {"z": ("c", "b", "m", "cw")}), {frozenset({"s2", "z"})}),
    "half of an arc": (
        on_slot({"u": (50.0, 10.0)}, {"z": ("b", "u", "m", "ccw")}), {frozenset({"s2", "z"})}),
    "piece amid an arc": (
        on_slot({"u": (46.0, 2.0), "v": (48.0, 16.0)}, {"z": ("u", "v", "m", "ccw")}),
        {frozenset({"s2", "z"})}),
    "whole outline": (
        on_slot({}, {f"{name}z": row for name, row in SLOT.items()}),
        {frozenset({name, f"{name}z"}) for name in SLOT}),
    "scribble beside the plate": (
        on_plate({"u": (50.0, 0.0), "v": (90.0, 0.0)}, {"y": ("u", "v"), "z": ("u", "v")}),
        {frozenset({"y", "z"})}),
    "edge between two squares": (
        on_plate({"u": (80.0, 0.0), "v": (80.0, 20.0)},
                 {"w": ("p2", "u"), "x": ("u", "v"), "y": ("v", "p3"), "z": ("p3", "p2")}),
        {frozenset({"pe2", "z"})}),
}


@pytest.mark.parametrize("name", TWICE)
def test_told_as_overlap_and_nothing_else(name: str) -> None:
    part, pairs = TWICE[name]
    inspection = looked_at(part)
    assert set(codes(inspection)) == {"overlap"}
    assert {frozenset(f.ids) for f in inspection.findings} == pairs
    assert inspection.profile.strays == ()
    assert inspection.profile.open_ends == ()


def test_beside_a_small_chamfer() -> None:
    """The end left over at a place where others meet does not nearly meet what comes next."""
    points, lines = polygon((0, 0), (39, 0), (40, 1), (40, 20), (0, 20))
    inspection = looked_at(plate(points, {**lines, "z": ("p1", "p2")}))
    assert codes(inspection) == ["overlap"]
    assert not [joint for joint in inspection.joints if joint.state in {"gap", "overrun"}]


def test_an_end_near_the_corner_of_the_curve_below() -> None:
    """The line shares one corner with the one below it, and ends just short of the other."""
    for end in (38.0, 39.5):
        part = on_plate({"v": (end, 0.0)}, {"z": ("p1", "v")})
        assert codes(looked_at(part)) == ["overlap"]


def test_reflected() -> None:
    """Both halves drawn in part: each is told with the image that it lies on."""
    points = {"a": (0.0, 0.0), "b": (20.0, 0.0), "c": (20.0, 20.0), "d": (0.0, 20.0),
              "u": (-20.0, 3.0), "v": (-20.0, 15.0)}
    curves = {"e1": ("a", "b"), "e2": ("b", "c"), "e3": ("c", "d"), "z": ("u", "v"),
              "ax": ("a", "d")}
    inspection = looked_at(plate(points, curves, axis="ax", roles={"ax": "axis"}))
    assert set(codes(inspection)) == {"overlap"}
    assert {frozenset(f.ids) for f in inspection.findings} == {
        frozenset({"z", "e2'"}), frozenset({"z'", "e2"})}


def test_by_a_pattern() -> None:
    pattern = GridPattern(("y",), ("10", "0"), (3, 1))
    part = plate({**POINTS, "c": (10.0, 10.0), "d": (20.0, 10.0)},
                 {**LINES, "y": ("c", 3.0), "z": ("d", 3.0)}, patterns=frozen({"n": pattern}))
    inspection = looked_at(part)
    assert codes(inspection) == ["overlap"]
    assert set(inspection.findings[0].ids) == {"z", "y#1"}


def test_an_end_that_sticks_out_is_still_open() -> None:
    inspection = looked_at(on_plate({"u": (-9.0, 0.0), "v": (30.0, 0.0)}, {"z": ("u", "v")}))
    assert "stray" not in codes(inspection)
    assert [f.at for f in inspection.findings if f.code == "open"] == [(-9.0, 0.0)]
    assert {frozenset(f.ids) for f in inspection.findings if f.code == "overlap"} == {
        frozenset({"pe1", "z"})}


def test_a_plain_stray_is_still_a_stray() -> None:
    inspection = looked_at(on_plate({"u": (5.0, 5.0), "v": (30.0, 5.0)}, {"z": ("u", "v")}))
    assert codes(inspection) == ["stray"]  # that it is alone tells both of its ends
