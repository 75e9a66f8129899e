"""Which center lines a part gets, their names, and changes by hand."""

from __future__ import annotations

from dataclasses import replace
from math import asin, atan2, cos, dist, hypot, pi, sin

import numpy as np
import pytest

from sketcher.drafting import clearing
from sketcher.drafting.center_marks import center_marks, symmetry_signs
from sketcher.drafting.features import find
from sketcher.drafting.paper_view import View
from sketcher.geometry.curves import Arc, Line
from sketcher.part.image_id import ImageId, read_image_id
from sketcher.part.value import (
    ArcCurve,
    CircleCurve,
    Drawing,
    GridPattern,
    LineCurve,
    Mirror,
    Part,
    PolarPattern,
    frozen,
)
from sketcher.part.whole import whole

PLATE = {"p1": (0.0, 0.0), "p2": (120.0, 0.0), "p3": (120.0, 80.0), "p4": (0.0, 80.0)}
EDGES = {f"e{k}": LineCurve((f"p{k}", f"p{k % 4 + 1}")) for k in range(1, 5)}


def part(points=None, curves=None, **fields) -> Part:
    return Part(points=frozen(PLATE | (points or {})), curves=frozen(EDGES | (curves or {})),
                **fields)


def marks(value: Part):
    return {mark.id: mark for mark in center_marks(value)}


def hole(x: float, y: float, r: float = 5.0, name: str = "h1") -> tuple[dict, dict]:
    return {f"k{name}": (x, y)}, {name: CircleCurve(f"k{name}", r)}


def with_drawing(value: Part, **fields) -> Part:
    return value.having(drawing=replace(value.drawing, **fields))


def test_a_hole_has_two_lines_that_run_past_it_by_the_overhang() -> None:
    found = marks(part(*hole(40.0, 30.0)))
    assert set(found) == {"h1/level", "h1/plumb"}
    assert found["h1/level"].start == pytest.approx((32.0, 30.0))  # 5 + 3 mm
    assert found["h1/plumb"].end == pytest.approx((40.0, 38.0))
    assert all(len(mark.strokes) == 3 for mark in found.values())  # arm, short dash, arm


def test_the_overhang_is_an_eighth_of_an_inch_in_inches_and_can_be_set() -> None:
    inch = part(*hole(40.0, 30.0), unit="in")
    assert marks(inch)["h1/level"].end[0] == pytest.approx(45.0 + 3.175)
    assert marks(with_drawing(inch, overhang=6.0))["h1/level"].end[0] == pytest.approx(51.0)


def test_a_line_that_would_end_on_an_edge_runs_past_it() -> None:
    """The hole's edge lies 3 mm inside the plate's: the arm would end exactly on it."""
    found = marks(part(*hole(8.0, 30.0)))
    assert found["h1/level"].start == pytest.approx((-3.0, 30.0))


def test_holes_in_one_row_share_one_line() -> None:
    points, curves = hole(30.0, 40.0)
    more = hole(70.0, 40.0, 3.0, "h2")
    found = marks(part(points | more[0], curves | more[1]))
    assert set(found) == {"h1/level", "h1/plumb", "h2/plumb"}
    row = found["h1/level"]
    assert (row.start, row.end) == (pytest.approx((22.0, 40.0)), pytest.approx((76.0, 40.0)))


def test_rows_are_not_joined_across_the_outside() -> None:
    """A notch lies between two holes."""
    points = {"p1": (0.0, 0.0), "p2": (120.0, 0.0), "p3": (120.0, 60.0), "p4": (80.0, 60.0),
              "p5": (80.0, 20.0), "p6": (40.0, 20.0), "p7": (40.0, 60.0), "p8": (0.0, 60.0),
              "k1": (20.0, 40.0), "k2": (100.0, 40.0)}
    curves = {f"e{k}": LineCurve((f"p{k}", f"p{k % 8 + 1}")) for k in range(1, 9)}
    curves |= {"h1": CircleCurve("k1", 5.0), "h2": CircleCurve("k2", 5.0)}
    found = marks(Part(points=frozen(points), curves=frozen(curves)))
    assert {"h1/level", "h2/level"} <= set(found)


def test_a_grid_is_joined_by_rows_and_columns_along_its_own_angle() -> None:
    points, curves = hole(30.0, 20.0, 3.0)
    pattern = GridPattern(("h1",), ("20", "15"), (3, 2), "10")
    found = marks(part(points, curves, patterns=frozen({"n1": pattern})))
    assert len(found) == 5  # two rows, three columns
    row = Line(found["h1/along"].start, found["h1/along"].end)
    assert row.direction == pytest.approx((cos(pi / 18), sin(pi / 18)))
    assert row.length == pytest.approx(2 * 20 + 2 * 6)


def test_a_polar_pattern_has_its_pitch_circle_and_radial_ticks() -> None:
    points, curves = hole(60.0, 62.0, 3.0)
    pattern = PolarPattern(("h1",), "c0", 6)
    found = marks(part(points | {"c0": (60.0, 40.0)}, curves, patterns=frozen({"n1": pattern})))
    assert found["n1/pitch"].closed
    arcs = [s.curve for s in found["n1/pitch"].strokes]
    assert all(isinstance(a, Arc) and a.radius == pytest.approx(22.0) for a in arcs)
    ticks = [m for name, m in found.items() if name.endswith("/radial")]
    assert len(ticks) == 6
    for tick in ticks:
        assert dist(tick.start, tick.end) == pytest.approx(12.0)
        middle = [(a + b) / 2 for a, b in zip(tick.start, tick.end, strict=True)]
        assert hypot(middle[0] - 60.0, middle[1] - 40.0) == pytest.approx(22.0)


def test_an_open_polar_pattern_has_an_arc_with_overhang_at_both_ends() -> None:
    points, curves = hole(85.0, 40.0, 3.0)
    pattern = PolarPattern(("h1",), "c0", 3, "60")
    found = marks(part(points | {"c0": (60.0, 40.0)}, curves, patterns=frozen({"n1": pattern})))
    pitch = found["n1/pitch"]
    assert not pitch.closed
    # Past the outermost holes by the overhang of 3 mm along the circle of 25.
    hole_edge = 2 * asin(3.0 / 50.0)
    low, high = (atan2(y - 40.0, x - 60.0) for x, y in (pitch.start, pitch.end))
    assert low == pytest.approx(-hole_edge - 3.0 / 25.0)
    assert high == pytest.approx(pi / 3 + hole_edge + 3.0 / 25.0)


def slot(bent: bool) -> Part:
    if not bent:
        points = {"u1": (40.0, 35.0), "u2": (70.0, 35.0), "u3": (70.0, 45.0), "u4": (40.0, 45.0),
                  "c1": (70.0, 40.0), "c2": (40.0, 40.0)}
        curves = {"s1": LineCurve(("u1", "u2")), "s2": ArcCurve(("u2", "u3"), "c1", "ccw"),
                  "s3": LineCurve(("u3", "u4")), "s4": ArcCurve(("u4", "u1"), "c2", "ccw")}
        return part(points, curves)

    def at(r: float, degrees: float) -> tuple[float, float]:
        return (60.0 + r * cos(degrees * pi / 180), 10.0 + r * sin(degrees * pi / 180))

    points = {"c0": (60.0, 10.0), "u1": at(44, 60), "u2": at(44, 120), "u3": at(36, 120),
              "u4": at(36, 60), "c1": at(40, 120), "c2": at(40, 60)}
    curves = {"s1": ArcCurve(("u1", "u2"), "c0", "ccw"), "s2": ArcCurve(("u2", "u3"), "c1", "ccw"),
              "s3": ArcCurve(("u3", "u4"), "c0", "cw"), "s4": ArcCurve(("u4", "u1"), "c2", "ccw")}
    return part(points, curves)


def test_a_straight_slot_has_its_long_axis_and_a_tick_at_each_end() -> None:
    found = marks(slot(bent=False))
    long = next(m for m in found.values() if abs(m.start[1] - m.end[1]) < 1e-9)
    ends = sorted((long.start, long.end))
    assert ends == [pytest.approx((32.0, 40.0)), pytest.approx((78.0, 40.0))]
    ticks = [m for m in found.values() if m is not long]
    assert sorted(m.start[0] for m in ticks) == pytest.approx([40.0, 70.0])
    assert all(dist(m.start, m.end) == pytest.approx(16.0) for m in ticks)


def test_a_curved_slot_has_the_arc_of_its_path_with_even_ends() -> None:
    found = marks(slot(bent=True))
    path = found["s1/path"]
    assert all(s.curve.radius == pytest.approx(40.0) for s in path.strokes)
    outline_end = 60.0 * pi / 180 - 2 * 4 / 80  # chord of 4 on the circle of 40, nearly
    reach = [abs(sorted((a, b))[0]) for a, b in ((_turn(path.start), _turn(path.end)),)]
    assert reach[0] == pytest.approx(outline_end - 3.0 / 40.0, abs=2e-4)
    assert _turn(path.start) + _turn(path.end) == pytest.approx(pi)  # even about the middle
    assert sum(name.endswith("/radial") for name in found) == 2


def _turn(at: tuple[float, float]) -> float:
    return atan2(at[1] - 10.0, at[0] - 60.0)


def mirrored(**drawing) -> Part:
    points = {"p1": (0.0, 0.0), "p2": (60.0, 0.0), "p3": (60.0, 80.0), "p4": (0.0, 80.0),
              "k1": (0.0, 50.0), "k2": (35.0, 20.0)}
    curves = {"e1": LineCurve(("p1", "p2")), "e2": LineCurve(("p2", "p3")),
              "e3": LineCurve(("p3", "p4")), "ax": LineCurve(("p1", "p4"), "axis"),
              "h1": CircleCurve("k1", 8.0), "h2": CircleCurve("k2", 5.0)}
    return Part(points=frozen(points), curves=frozen(curves), mirrors=(Mirror("ax"),),
                drawing=Drawing(**drawing))


def test_the_axis_runs_through_the_whole_part_and_takes_its_holes_along() -> None:
    found = marks(mirrored(axis_style="phantom"))
    axis = found["ax/axis"]
    assert sorted((axis.start, axis.end)) == [pytest.approx((0.0, -3.0)),
                                              pytest.approx((0.0, 83.0))]
    assert {s.line for s in axis.strokes} == {"phantom"}
    assert "h1/plumb" not in found  # it lies on the axis
    # One line with its reflection, which runs on to the outline at both ends.
    row = found["h2/level"]
    assert sorted((row.start[0], row.end[0])) == pytest.approx([-63.0, 63.0])


def test_a_half_view_shows_the_half_and_two_strokes_at_each_end_of_its_axis() -> None:
    value = mirrored(show_half=True)
    found = center_marks(value)
    assert not any("'" in mark.id for mark in found)
    signs = symmetry_signs(value, found)
    assert len(signs) == 4
    assert all(abs(s.curve.direction[0]) == pytest.approx(1.0) for s in signs)
    assert symmetry_signs(mirrored(), center_marks(mirrored())) == []


def test_a_mark_can_be_switched_off_pulled_and_reset() -> None:
    value = part(*hole(40.0, 30.0))
    plain = marks(value)
    off = with_drawing(value, centers=frozen({"h1/level": {"off": True}}))
    assert set(marks(off)) == {"h1/plumb"}
    pulled = with_drawing(value, centers=frozen({"h1/level": {"start": 4.0, "end": -1.5}}))
    mark = marks(pulled)["h1/level"]
    assert mark.start == pytest.approx((28.0, 30.0))
    assert mark.end == pytest.approx((46.5, 30.0))
    assert marks(with_drawing(pulled, centers=frozen())) == plain
    far = with_drawing(value, centers=frozen({"h1/level": {"start": -99.0, "end": -99.0}}))
    assert dist(marks(far)["h1/level"].start, (40.0, 30.0)) < 2.0  # never shorter than its plus


def test_names_stay_when_the_geometry_moves() -> None:
    for x in (30.0, 45.5, 61.0):
        assert set(marks(part(*hole(x, 30.0)))) == {"h1/level", "h1/plumb"}


def test_what_comes_near_is_found_whatever_the_number() -> None:
    rng = np.random.default_rng(3)
    low = rng.uniform(0.0, 100.0, (200, 2))
    boxes = np.concatenate((low, low + rng.uniform(0.0, 8.0, (200, 2))), axis=1)
    spots = np.repeat(rng.uniform(0.0, 100.0, (50, 1)), 4, axis=1)
    for others, margin in ((boxes, 0.0), (spots, 3.0)):
        wanted = [[k for k, b in enumerate(others)
                   if (b[:2] - a[2:] <= margin).all() and (a[:2] - b[2:] <= margin).all()]
                  for a in boxes]
        assert clearing.near_by(boxes, others, margin) == wanted


@pytest.mark.parametrize("turn", [0.0, 0.3, pi / 4])
def test_what_is_told_at_once_is_what_a_closer_look_tells(
    turn: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    rng = np.random.default_rng(8)
    points, curves = {}, {}
    for k in range(40):
        x, y = rng.uniform(5.0, 115.0), rng.uniform(5.0, 75.0)
        more, holes = hole(x * cos(turn) - y * sin(turn), x * sin(turn) + y * cos(turn),
                           rng.uniform(1.6, 4.0), f"h{k}")
        points |= more
        curves |= holes
    crowded = part(points, curves)
    told = marks(crowded)
    looks = []
    free = clearing._free
    monkeypatch.setattr(clearing, "_free", lambda *given: looks.append(1) or free(*given))
    assert marks(crowded) == told
    few = len(looks)
    unsure = np.full(1, np.nan)
    monkeypatch.setattr(clearing, "_surely", lambda start, end, others, gap: (
        np.repeat(unsure, len(others)), np.repeat(unsure, len(others))))
    assert marks(crowded) == told
    assert len(looks) - few > 2 * few


def test_lines_of_holes_that_overlap_by_the_hundred_do_not_give_way(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    points, curves = hole(30.0, 30.0)
    more, others = hole(41.0, 30.5, name="h2")
    close = part(points | more, curves | others)
    given_way = marks(close)
    monkeypatch.setattr(clearing, "CROWD", 0)
    kept = marks(close)
    assert kept.keys() == given_way.keys()
    longer = [dist(kept[name].start, kept[name].end) - dist(mark.start, mark.end)
              for name, mark in given_way.items()]
    assert max(longer) > 0.5
    assert min(longer) >= -1e-9


def test_marks_of_a_turned_grid_turn_with_its_reflections() -> None:
    # a step of the reflected grid, taken from the holes themselves, gives the direction
    part = Part(
        points=frozen({"c": (10.0, 10.0), "o": (0.0, 0.0), "x": (90.0, 0.0), "y": (0.0, 90.0)}),
        curves=frozen({"h": CircleCurve("c", 2.0), "ax": LineCurve(("o", "x"), "axis"),
                       "ay": LineCurve(("o", "y"), "axis")}),
        mirrors=(Mirror("ax", ("h",)), Mirror("ay", ("h",))),
        patterns=frozen({"g": GridPattern(("h",), ("20", "20"), (2, 1), "20")}))
    pieces = {p.image: p.curve.center for p in whole(part) if p.source == "h"}
    turns = {read_image_id(c.id): c.turn for c in find(part, View()).centers}
    assert len(pieces) == 8
    for image, (x, y) in pieces.items():
        if image.instance == 0:
            x1, y1 = pieces[ImageId("h", image.mirrors, 1)]
            assert turns[image] == pytest.approx(atan2(y1 - y, x1 - x) % pi - (
                pi if atan2(y1 - y, x1 - x) % pi > pi / 2 else 0.0))
