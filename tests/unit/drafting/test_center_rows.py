"""Which center lines are one, and what their ends belong to; places reckoned by hand."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import cos, dist, pi, sin, tau

import pytest

from sketcher.drafting.center_marks import center_marks
from sketcher.drafting.paper_view import View
from sketcher.geometry.curves import Line
from sketcher.geometry.evaluate import point_at
from sketcher.part.center_rules import EndRule, read_rule
from sketcher.part.edits.delete import delete
from sketcher.part.edits.rename import rename
from sketcher.part.value import (
    ArcCurve,
    Binding,
    CircleCurve,
    LineCurve,
    Mirror,
    Part,
    PolarPattern,
    frozen,
)

OVERHANG = 3.0  # mm, common practice, no source


def plate(corners, holes=(), **fields) -> Part:
    """A plate of straight edges with holes (x, y, radius), named h1, h2, ..."""
    points = {f"p{k}": at for k, at in enumerate(corners, 1)}
    curves = {f"e{k}": LineCurve((f"p{k}", f"p{k % len(corners) + 1}"))
              for k in range(1, len(corners) + 1)}
    for k, (x, y, r) in enumerate(holes, 1):
        points[f"k{k}"] = (x, y)
        curves[f"h{k}"] = CircleCurve(f"k{k}", r)
    points |= fields.pop("points", {})
    curves |= fields.pop("curves", {})
    return Part(points=frozen(points), curves=frozen(curves), **fields)


def box(width, height, holes=(), **fields) -> Part:
    return plate([(0, 0), (width, 0), (width, height), (0, height)], holes, **fields)


def marks(part: Part, factor: float = 1.0):
    found = {mark.id: mark for mark in center_marks(part, View(factor))}
    check_not_doubled(found.values())
    return found


def check_not_doubled(found) -> None:
    """No two straight lines lie on each other."""
    lines = [(m.start, m.end) for m in found
             if all(isinstance(s.curve, Line) for s in m.strokes)]
    for k, (a, b) in enumerate(lines):
        size = dist(a, b)
        ux, uy = (b[0] - a[0]) / size, (b[1] - a[1]) / size
        for c, d in lines[k + 1:]:
            off = [abs(ux * (p[1] - a[1]) - uy * (p[0] - a[0])) for p in (c, d)]
            low, high = sorted(ux * (p[0] - a[0]) + uy * (p[1] - a[1]) for p in (c, d))
            assert max(off) > 0.02 or min(high, size) - max(low, 0.0) < 0.0, (a, b, c, d)


def ends(mark) -> list[tuple[float, float]]:
    return [pytest.approx(p, abs=1e-6) for p in sorted((mark.start, mark.end))]


def by_hand(part: Part, **lines) -> Part:
    rules = {name.replace("_", "/"): frozen(entry) for name, entry in lines.items()}
    return part.having(drawing=replace(part.drawing, centers=frozen(rules)))


# Rows and rectangles.

U_SHAPE = [(0, 0), (120, 0), (120, 80), (80, 80), (80, 30), (40, 30), (40, 80), (0, 80)]
CORNERS = [(20, 15, 4), (100, 15, 4), (100, 65, 4), (20, 65, 4)]


def test_a_rectangle_is_joined_on_all_sides() -> None:
    found = marks(box(200, 160, [(60, 40, 4), (140, 40, 4), (140, 120, 4), (60, 120, 4)]))
    assert len(found) == 4
    assert sorted(round(dist(m.start, m.end), 6) for m in found.values()) == [94, 94, 94, 94]


def test_a_rectangle_with_a_side_outside_the_part_is_not_joined_at_all() -> None:
    """The side between the two limbs would leave the part; so each hole has a plus of its own."""
    found = marks(plate(U_SHAPE, CORNERS))
    assert len(found) == 8
    assert all(dist(m.start, m.end) == pytest.approx(14.0) for m in found.values())


def test_two_sides_of_which_none_is_barred_stay_joined() -> None:
    found = marks(plate(U_SHAPE, [CORNERS[0], CORNERS[3]]))
    assert {"h1/level", "h2/level", "h1/plumb"} == set(found)


def test_a_row_with_a_notch_in_it_is_not_joined_in_part() -> None:
    comb = [(0, 0), (160, 0), (160, 40), (100, 40), (100, 15), (60, 15), (60, 40), (0, 40)]
    found = marks(plate(comb, [(15, 25, 3), (45, 25, 3), (115, 25, 3), (145, 25, 3)]))
    assert sum(name.endswith("level") for name in found) == 4


def test_a_line_does_not_run_on_into_another_feature() -> None:
    """Between two holes stands a third one off their line."""
    row = [(30, 40, 4), (90, 40, 4)]
    assert "h2/level" not in marks(box(120, 80, row))
    assert "h2/level" in marks(box(120, 80, [*row, (60, 45.5, 5)]))


def test_a_line_does_not_run_along_an_edge_of_a_window() -> None:
    window = {f"w{k}": at for k, at in enumerate([(40, 20), (80, 20), (80, 40.3), (40, 40.3)], 1)}
    edges = {f"i{k}": LineCurve((f"w{k}", f"w{k % 4 + 1}")) for k in range(1, 5)}
    row = [(20, 40, 4), (100, 40, 4)]
    assert "h2/level" in marks(box(120, 80, row, points=window, curves=edges))


def slot(x0: float, x1: float, y: float, r: float) -> tuple[dict, dict]:
    points = {"u1": (x0, y - r), "u2": (x1, y - r), "u3": (x1, y + r), "u4": (x0, y + r),
              "c1": (x1, y), "c2": (x0, y)}
    return points, {"s1": LineCurve(("u1", "u2")), "s2": ArcCurve(("u2", "u3"), "c1", "ccw"),
                    "s3": LineCurve(("u3", "u4")), "s4": ArcCurve(("u4", "u1"), "c2", "ccw")}


def test_a_hole_and_a_slot_that_share_a_height_far_apart_stay_apart() -> None:
    """On a bar of 900: 875 apart, 176 times the extent of the larger."""
    points, curves = slot(880, 884, 10, 1)
    bar = box(900, 20, [(10, 10, 2)], points=points, curves=curves)
    assert not any(abs(m.start[0] - m.end[0]) > 100 for m in marks(bar).values())
    tied = bar.having(bindings=frozen({"b1": Binding("level", ("k1", "c2"))}))
    assert any(abs(m.start[0] - m.end[0]) > 800 for m in marks(tied).values())


def test_two_slots_are_not_joined_from_end_to_end_across() -> None:
    mirrored = Part(
        points=frozen({"p1": (0, 0), "p2": (90, 0), "p3": (90, 80), "p4": (0, 80),
                       "u1": (54, 20), "u2": (54, 60), "u3": (46, 60), "u4": (46, 20),
                       "c1": (50, 60), "c2": (50, 20)}),
        curves=frozen({"e1": LineCurve(("p1", "p2")), "e2": LineCurve(("p2", "p3")),
                       "e3": LineCurve(("p3", "p4")), "ax": LineCurve(("p1", "p4"), "axis"),
                       "s1": LineCurve(("u1", "u2")), "s2": ArcCurve(("u2", "u3"), "c1", "ccw"),
                       "s3": LineCurve(("u3", "u4")), "s4": ArcCurve(("u4", "u1"), "c2", "ccw")}),
        mirrors=(Mirror("ax"),))
    level = [m for m in marks(mirrored).values() if abs(m.start[1] - m.end[1]) < 1e-9]
    assert len(level) == 4
    assert all(dist(m.start, m.end) == pytest.approx(14.0) for m in level)


# Rows run on to the outline: at both ends or at none.

def test_a_row_across_most_of_the_part_runs_on_to_the_outline() -> None:
    found = marks(box(120, 80, [(20, 40, 4), (100, 40, 4)]))
    assert ends(found["h1/level"]) == [(-3.0, 40.0), (123.0, 40.0)]


@pytest.mark.parametrize("x", [20, 75])
def test_a_row_that_is_far_from_one_end_of_the_part_ends_past_its_features(x: float) -> None:
    """At both ends, although the outline is near at one of them where x is 20."""
    found = marks(box(200, 80, [(x, 40, 4), (x + 40, 40, 4)]))
    assert ends(found["h1/level"]) == [(x - 7.0, 40.0), (x + 47.0, 40.0)]


def test_a_slot_in_a_round_end_runs_past_the_slot_at_both_ends() -> None:
    """The round end of the part, of less than half a turn, is concentric with one slot end."""
    points, curves = slot(30, 70, 0, 5)
    turn = 80 * pi / 180
    x, y = 70 + 15 * cos(turn), 15 * sin(turn)
    outline = {"p1": (0, -30), "p2": (x, -y), "p3": (x, y), "p4": (0, 30)}
    edges = {"e1": LineCurve(("p1", "p2")), "e2": ArcCurve(("p2", "p3"), "c1", "ccw"),
             "e3": LineCurve(("p3", "p4")), "e4": LineCurve(("p4", "p1"))}
    found = marks(Part(points=frozen(points | outline), curves=frozen(curves | edges)))
    long = max(found.values(), key=lambda m: abs(m.start[0] - m.end[0]))
    assert ends(long) == [(22.0, 0.0), (78.0, 0.0)]


# Arcs.

def lug(half_turn: float, pieces: int = 1, **fields) -> Part:
    """A plate with a round end of twice `half_turn` degrees and radius 20 about (60, 0)."""
    turn = half_turn * pi / 180
    x, y = 60 + 20 * cos(turn), 20 * sin(turn)
    points = {"p1": (0, -y), "p2": (x, -y), "p3": (x, y), "p4": (0, y), "c": (60, 0),
              "m": (80, 0)}
    edges = {"e1": LineCurve(("p1", "p2")), "e3": LineCurve(("p3", "p4")),
             "e4": LineCurve(("p4", "p1"))}
    arcs = ({"a1": ArcCurve(("p2", "p3"), "c", "ccw")} if pieces == 1 else
            {"a1": ArcCurve(("p2", "m"), "c", "ccw"), "a2": ArcCurve(("m", "p3"), "c", "ccw")})
    points |= fields.pop("points", {})
    return Part(points=frozen(points), curves=frozen(edges | arcs | fields.pop("curves", {})),
                **fields)


@pytest.mark.parametrize("pieces", [1, 2])
def test_an_arc_of_half_a_turn_is_marked_without_a_dimension(pieces: int) -> None:
    found = marks(lug(90, pieces))
    assert len(found) == 2
    assert ends(found["a1/plumb"]) == [(60.0, -23.0), (60.0, 23.0)]
    assert max(found["a1/level"].start[0], found["a1/level"].end[0]) == pytest.approx(83.0)


def test_a_shorter_arc_is_marked_only_where_a_dimension_locates_its_center() -> None:
    assert not marks(lug(80))
    located = lug(80, bindings=frozen({"b1": Binding("run", ("p1", "c"), "60")}))
    assert set(marks(located)) == {"a1/level", "a1/plumb"}


def test_each_concentric_round_is_marked() -> None:
    """Two arcs of 160 and 180 degrees or less about one center, no hole and no dimension."""
    inner = {"q1": (60 + 8 * cos(1.2), -8 * sin(1.2)), "q2": (60 + 8 * cos(1.2), 8 * sin(1.2))}
    curves = {"i1": ArcCurve(("q1", "q2"), "c", "ccw"), "i2": LineCurve(("q2", "q1"))}
    assert set(marks(lug(80, points=inner, curves=curves))) == {"a1/level", "a1/plumb"}


def test_a_pattern_on_a_circle_that_is_laid_out_has_one_pitch_circle() -> None:
    part = box(120, 100, [(60, 72, 3)], points={"c0": (60, 50)},
               curves={"l1": CircleCurve("c0", 22.0, "layout")},
               patterns=frozen({"n1": PolarPattern(("h1",), "c0", 6)}))
    found = [m for m in center_marks(part) if "pitch" in m.id]
    assert len(found) == 1


@pytest.mark.parametrize(("count", "turn", "wanted"), [(6, 0.0, 1), (3, 0.2, 1), (4, 0.0, 0),
                                                       (5, 0.01, 1)])
def test_holes_that_stand_evenly_about_a_hole_have_a_pitch_circle(
    count: int, turn: float, wanted: int
) -> None:
    """Without a pattern or a layout circle; four may as well be a square."""
    ring = [(60 + 25 * cos(turn + k * tau / count), 50 + 25 * sin(turn + k * tau / count), 3)
            for k in range(count)]
    found = marks(box(120, 100, [(60, 50, 9), *ring]))
    assert sum("pitch" in name for name in found) == wanted
    assert sum("radial" in name for name in found) == wanted * count
    moved = [(60, 50, 9), *ring[1:], (ring[0][0] + 0.5, *ring[0][1:])]
    assert not any("pitch" in name for name in marks(box(120, 100, moved)))


@pytest.mark.parametrize("practice", ["ISO", "ASME"])
def test_a_small_hole_has_an_unbroken_cross(practice: str) -> None:
    for radius, dashes in ((1.45, 1), (1.55, 3)):
        part = box(120, 80, [(40, 30, radius)])
        part = part.having(drawing=replace(part.drawing, practice=practice))
        for mark in marks(part).values():
            assert len([d for s in mark.strokes for d in s.dashes()]) == dashes
            assert dist(mark.start, mark.end) == pytest.approx(2 * (radius + OVERHANG))


def test_no_center_line_is_drawn_on_an_edge() -> None:
    """A hole on the level of a step in the outline, whose edge lies on its center line."""
    step = [(0, 0), (120, 0), (120, 40), (49, 40), (49, 80), (0, 80)]
    found = marks(plate(step, [(43, 40, 5)]))
    dashes = [d for s in found["h1/level"].strokes for d in s.dashes()]
    assert max(max(d.start[0], d.end[0]) for d in dashes) == pytest.approx(49.0 - 0.8)
    assert len(dashes) == 3


def test_no_pitch_circle_is_drawn_on_an_arc_of_the_outline() -> None:
    """Holes about a notch whose arc, a quarter of their pitch circle, is outline."""
    ring = [(60 + 22 * cos(a), 50 + 22 * sin(a), 2) for a in (pi / 3, pi, 5 * pi / 3)]
    points = {"q1": (82, 50), "q2": (60, 72), "q3": (70, 60), "c0": (60, 50)}
    curves = {"i1": ArcCurve(("q1", "q2"), "c0", "ccw"), "i2": LineCurve(("q2", "q3")),
              "i3": LineCurve(("q3", "q1")), "l1": CircleCurve("c0", 22.0, "layout")}
    ring[0] = (60 + 22 * cos(4), 50 + 22 * sin(4), 2)
    part = box(120, 100, ring, points=points, curves=curves)
    (pitch,) = [m for m in center_marks(part) if "pitch" in m.id]
    middles = [point_at(d, 0.5) for s in pitch.strokes for d in s.dashes()]
    assert len(middles) > 5
    assert not any(x > 61 and y > 51 for x, y in middles)


@pytest.mark.parametrize(("start", "end"), [(0, 120), (-9, 131), (4, 116)])
def test_an_axis_runs_past_the_outline_evenly_however_long_it_was_drawn(
    start: float, end: float
) -> None:
    part = box(120, 80, points={"m1": (start, 40), "m2": (end, 40)},
               curves={"ax": LineCurve(("m1", "m2"), "axis")})
    assert ends(marks(part)["ax/axis"]) == [(-3.0, 40.0), (123.0, 40.0)]


def test_an_axis_of_one_limb_ends_where_it_was_drawn() -> None:
    part = box(120, 80, points={"m1": (0, 40), "m2": (60, 40)},
               curves={"ax": LineCurve(("m1", "m2"), "axis")})
    assert ends(marks(part)["ax/axis"]) == [(-3.0, 40.0), (63.0, 40.0)]


# What a person said.

def test_an_end_to_the_outline_follows_the_outline() -> None:
    for width in (120, 150):
        part = by_hand(box(width, 80, [(30, 40, 5)]), h1_level={"end": "outline"})
        assert ends(marks(part)["h1/level"]) == [(22.0, 40.0), (width + 3.0, 40.0)]


def test_an_end_to_a_hole_takes_it_in_and_follows_its_radius_and_place() -> None:
    for x, r in ((300, 3), (300, 7), (320, 7)):
        bare = box(520, 80, [(30, 40, 0.4), (x, 40, r)])
        assert "h2/level" in marks(bare)
        joined = marks(by_hand(bare, h1_level={"end": "to h2"}))
        assert "h2/level" not in joined
        assert ends(joined["h1/level"])[1] == (x + r + 3.0, 40.0)


def test_an_end_to_its_own_hole_parts_it_from_its_row() -> None:
    row = box(200, 80, [(30, 40, 4), (70, 40, 4), (110, 40, 4)])
    found = marks(by_hand(row, h2_level={"end": "to h2"}))
    assert ends(found["h1/level"]) == [(23.0, 40.0), (77.0, 40.0)]
    assert ends(found["h3/level"]) == [(103.0, 40.0), (117.0, 40.0)]


@pytest.mark.parametrize(("rule", "x"), [("to h2", 107.0), ("center", 101.5)])
def test_an_end_of_a_row_that_runs_on_is_taken_back_and_the_other_stays(
    rule: str, x: float
) -> None:
    part = by_hand(box(120, 80, [(20, 40, 4), (100, 40, 4)]), h2_level={"end": rule})
    assert ends(marks(part)["h1/level"]) == [(-3.0, 40.0), (x, 40.0)]


def test_an_end_past_an_axis_follows_the_axis() -> None:
    for x in (60, 75):
        part = box(120, 80, [(30, 40, 5)], points={"m1": (x, 0), "m2": (x, 80)},
                   curves={"ax": LineCurve(("m1", "m2"), "axis")})
        part = by_hand(part, h1_level={"end": "axis ax"})
        assert ends(marks(part)["h1/level"])[1] == (x + 3.0, 40.0)


def test_an_end_to_its_center_is_no_longer_than_the_short_dash() -> None:
    part = by_hand(box(120, 80, [(30, 40, 5)]), h1_level={"end": "center"})
    assert ends(marks(part)["h1/level"]) == [(22.0, 40.0), (31.5, 40.0)]


def test_a_rule_holds_whatever_the_line_is_called_by_now() -> None:
    """A hole that is drawn beside it takes the line over; the end stays where it belongs."""
    part = by_hand(box(300, 80, [(130, 40, 4), (90, 40, 4)]), h1_level={"end": "outline"})
    found = marks(part)
    name = next(name for name in found if name.endswith("level"))
    assert ends(found[name]) == [(83.0, 40.0), (303.0, 40.0)]
    assert {"h1/level", "h2/level"} == set(found[name].names)


@pytest.mark.parametrize("rule", ["outline", "to h9", "axis x9", "center"])
def test_a_rule_that_cannot_be_kept_changes_nothing_else(rule: str) -> None:
    part = box(120, 80, [(30, 40, 5), (90, 60, 5)])
    given = marks(by_hand(part, h1_plumb={"end": rule}))
    assert given["h2/plumb"].strokes == marks(part)["h2/plumb"].strokes


def test_lines_that_meet_when_one_is_pulled_become_one() -> None:
    """Millimeters of an older file; `marks` looks whether two lie on each other."""
    part = box(300, 80, [(30, 40, 0.4), (160, 40, 3)])
    assert "h2/level" not in marks(by_hand(part, h1_level={"end": 126.0}))
    assert "h2/level" in marks(by_hand(part, h1_level={"end": 60.0}))


@pytest.mark.parametrize("text", ["", "to", "to ", "axis", "outlines", "to  h1", "center h1"])
def test_what_is_no_rule_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"drawing\.centers"):
        read_rule(text)


@pytest.mark.parametrize("rule", [EndRule("outline"), EndRule("to", "h1#2'"), EndRule("axis", "x1"),
                                  EndRule("center"), EndRule("more", more=-1.5)])
def test_a_rule_is_read_as_it_was_stored(rule: EndRule) -> None:
    assert read_rule(rule.stored) == rule


def test_rules_follow_a_new_name_and_go_with_what_they_are_of() -> None:
    part = by_hand(box(120, 80, [(30, 40, 5), (90, 40, 5)]),
                   h1_level={"end": "to h2"}, **{"h2#1'_plumb": {"off": True}})
    renamed = rename(part, "h2", "hole").part.drawing.centers
    assert dict(renamed["h1/level"]) == {"end": "to hole"}
    assert "hole#1'/plumb" in renamed
    left = delete(part, "h2").part.drawing.centers
    assert set(left) == {"h1/level"}
    assert not delete(part, "h1", "h2").part.drawing.centers


def test_dashes_of_a_row_keep_off_each_plus() -> None:
    row = marks(box(120, 80, [(20, 40, 4), (60, 40, 4), (100, 40, 4)]))["h1/level"]
    dashes = sorted(sorted((d.start[0], d.end[0])) for s in row.strokes for d in s.dashes())
    for x in (20, 60, 100):
        assert [x - 1.5, x + 1.5] in [pytest.approx(d) for d in dashes]
    assert all(b[0] - a[1] > 0.7 for a, b in pairwise(dashes))
