"""Which center lines a hand-in has: by the book it loses nothing, what lacks is found once."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest

from sketcher.exchange.dxf_content import FileEntity
from sketcher.geometry.curves import Circle, Line
from sketcher.geometry.evaluate import moved, reflected, scaled
from sketcher.marking.center_evidence import looks_like_center_mark
from sketcher.marking.hand_in_file import read_hand_in
from sketcher.marking.marking_rule import Undecided
from sketcher.marking.rules import marking_rules
from sketcher.part.store import save
from sketcher.part.value import frozen
from tests.ready_keys import key_ready
from tests.unit.marking.by_hand import gate_strap, pump_flange, shelf_bracket
from tests.unit.marking.centers_by_hand import (
    ASME,
    CENTER_RULES,
    ISO,
    PAPERS,
    Habit,
    arm_lines,
    arm_pieces,
    beside,
    bracket_lines,
    counts,
    drawn_in,
    flange_lines,
    handed_in,
    inch_cross,
    judged,
    straight,
    strap_lines,
    tick,
    told,
)


def without(lines: dict, *names: str) -> dict:
    return {name: strokes for name, strokes in lines.items() if name not in names}


@pytest.mark.parametrize("name", PAPERS)
def test_center_lines_by_the_book_lose_nothing(name: str) -> None:
    """In both standards' gaps and overhangs; holes in one row, or each by itself."""
    lines = PAPERS[name][1]
    for habit in (ISO, ASME):
        for row in (True, False):
            assert judged(name, lines(habit, row)) == {}, (habit, row)


def test_an_inch_part_by_the_book_loses_nothing() -> None:
    assert judged("shelf-bracket", bracket_lines()) == {}


def test_a_drawing_turned_and_mirrored_loses_nothing() -> None:
    def there(curve):
        return moved(reflected(curve, Line((0.0, 0.0), (1.0, 1.0))), 40.0, 0.0)

    drawn = handed_in("shelf-bracket", map(there, shelf_bracket().values()), {
        name: list(map(there, strokes)) for name, strokes in bracket_lines().items()})
    assert drawn.pose.mirrored
    assert told(drawn) == {}


@pytest.mark.parametrize(("over", "fault"), [(6.0, False), (3.0, True)])
def test_lengths_are_those_on_the_paper_of_a_drawing_to_a_scale(over: float, fault: bool) -> None:
    """At 1:2 an overhang of 6 on the part is 3 on paper, and one of 3 only 1.5."""
    drawn = beside("gate-strap",
                   strap_lines(Habit(gap=1.5, over=over, plus=3.0, long=28.0)))
    half = replace(drawn, pose=replace(drawn.pose, scale=2.0),
                   hand_in=replace(drawn.hand_in, curves=tuple(
                       replace(each, curve=scaled(each.curve, 0.5))
                       for each in drawn.hand_in.curves)))
    assert set(told(half)) == ({"overhang"} if fault else set())


def test_a_hole_without_center_lines_is_found_where_it_is() -> None:
    found = judged("gate-strap", without(strap_lines(row=False), "plumb", "level"))
    assert counts(found) == {"center-mark-missing": 1}
    (mistake,) = found["center-mark-missing"]
    assert mistake.at == pytest.approx((46.0, 12.0))
    assert mistake.text == "the hole Ø9 has no center lines"


def test_without_any_center_line_each_mark_is_missing_and_nothing_else() -> None:
    assert counts(judged("gate-strap", {})) == {"center-mark-missing": 3}
    assert counts(judged("pump-flange", {})) == {"center-mark-missing": 9}


def test_a_row_without_its_line_is_one_mistake() -> None:
    found = judged("gate-strap", without(strap_lines(), "row"))
    assert counts(found) == {"center-mark-missing": 1}
    assert found["center-mark-missing"][0].count == 2
    assert counts(judged("gate-strap", without(strap_lines(), "bore"))) == {
        "center-mark-missing": 1}


@pytest.mark.parametrize(("off", "fault"), [(0.1, False), (0.2, True)])
def test_lines_that_miss_the_center_do_not_mark_it(off: float, fault: bool) -> None:
    """A line is some 0.25 mm wide; 0.1 cannot be seen, 0.2 can."""
    lines = strap_lines(row=False)
    for name in ("plumb", "level"):
        lines[name] = [moved(stroke, off, off) for stroke in lines[name]]
    found = judged("gate-strap", lines)
    assert counts(found) == ({"center-mark-missing": 1} if fault else {})
    if fault:
        assert found["center-mark-missing"][0].found == "0.2"


def test_a_hole_drawn_elsewhere_is_marked_there_or_where_it_should_be() -> None:
    outline = gate_strap()
    outline["hole"] = Circle((44.7, 12.9), 4.5)
    lines = strap_lines(row=False)
    drawn = handed_in("gate-strap", outline, lines)
    assert told(drawn) == {}
    lines["plumb"], lines["level"] = tick((44.7, 12.9), 4.5, ISO, 0.5 * pi), tick(
        (44.7, 12.9), 4.5, ISO, 0.0)
    assert told(replace(drawn, hand_in=drawn_in("gate-strap", outline, lines))) == {}


def test_a_hole_that_was_not_drawn_is_not_marked() -> None:
    outline = gate_strap()
    del outline["hole"]
    lines = without(strap_lines(row=False), "plumb", "level")
    assert told(handed_in("gate-strap", outline, lines)) == {}


def test_a_missing_axis_is_one_mistake_with_the_marks_on_it() -> None:
    found = judged("gate-strap", without(strap_lines(), "axis"))
    assert counts(found) == {"axis-missing": 1}
    lines = without(strap_lines(), "axis")
    lines["plumb of bore"] = tick((0.0, 100.0), 10.0, ISO, 0.5 * pi)
    assert counts(judged("gate-strap", lines)) == {"axis-missing": 1}
    assert counts(judged("pump-flange", without(flange_lines(), "level"))) == {"axis-missing": 1}


@pytest.mark.parametrize(("to", "rule"), [(70.0, "axis-missing"), (76.0, "center-line-short")])
def test_an_axis_is_one_from_three_fifths_of_its_way_on(to: float, rule: str) -> None:
    """The way across the strap is 122."""
    lines = without(strap_lines(), "axis") | {
        "axis": straight((0.0, -3.0), (0.0, to), [], ISO),
        "plumb of bore": tick((0.0, 100.0), 10.0, ISO, 0.5 * pi)}
    lines["axis"] = straight((0.0, -3.0), (0.0, to - 26.0), [], ISO)
    assert counts(judged("gate-strap", lines)) == {rule: 1}


def test_holes_without_their_pitch_circle_are_one_mistake() -> None:
    for row in (True, False):
        found = judged("pump-flange", without(flange_lines(row=row), "pitch"))
        assert counts(found) == {"pattern-not-joined": 1}
        assert found["pattern-not-joined"][0].wanted == "a pitch circle Ø60"


def test_a_grid_wants_a_line_along_one_row_at_least() -> None:
    """A row that is no pattern may be marked hole by hole: the strap's, in both ways above."""
    alone = {"peg": bracket_lines()["peg"]} | {
        name: inch_cross(curve.center, curve.radius) for name, curve in shelf_bracket().items()
        if isinstance(curve, Circle) and name != "peg"}
    assert counts(judged("shelf-bracket", alone)) == {"pattern-not-joined": 1}
    one_row = without(alone, "hole0", "hole1") | {
        name: strokes for name, strokes in bracket_lines().items() if name == "row0"}
    for name in ("hole0", "hole1"):
        one_row[name] = alone[name][3:]  # the plumb line of each
    assert judged("shelf-bracket", one_row) == {}


@pytest.mark.parametrize(("radius", "fault"), [(30.1, False), (30.3, True)])
def test_a_pitch_circle_runs_through_the_holes(radius: float, fault: bool) -> None:
    lines = flange_lines(row=False)
    lines["pitch"] = [Circle((0.0, 0.0), radius)]
    assert counts(judged("pump-flange", lines)) == ({"pattern-not-joined": 1} if fault else {})


def test_slot_ends_and_the_middle_of_a_curved_slot() -> None:
    drawn = handed_in("shift-arm", arm_pieces())
    cases = [(arm_lines(), {}), (without(arm_lines(), "middle"), {"arc-center-line": 1}),
             (without(arm_lines(), "end0"), {"center-mark-missing": 1}),
             (without(arm_lines(), "cap0"), {"center-mark-missing": 1}),
             (arm_lines(past=3.5), {"center-line-short": 1})]
    for lines, found in cases:
        with_lines = replace(drawn, hand_in=drawn_in("shift-arm", arm_pieces(), lines))
        assert counts(told(with_lines)) == found


def test_center_lines_drawn_as_outline_are_one_mistake_and_still_center_lines() -> None:
    drawn = handed_in("gate-strap", gate_strap(), strap_lines(), "outline",
                      FileEntity(0, "LINE", "PLATE", width=0.5))
    found = told(drawn)
    assert counts(found) == {"center-line-layer": 1}
    assert found["center-line-layer"][0].count == sum(map(len, strap_lines().values()))


def test_strokes_on_the_outlines_layer_count_beside_pluses_that_were_known_as_such() -> None:
    """A plus alone marks nothing: the arms belong to it, whatever each was taken for."""
    drawn = drawn_in("gate-strap", gate_strap(), strap_lines(), "outline",
                     FileEntity(0, "LINE", "PLATE", width=0.5))
    plus = {stroke for strokes in strap_lines().values() for stroke in strokes
            if stroke.length <= 3.0}
    mixed = replace(drawn, curves=tuple(
        replace(each, role="center") if each.curve in plus else each for each in drawn.curves))
    assert counts(told(key_ready("gate-strap").compare(mixed))) == {"center-line-layer": 1}


@pytest.mark.parametrize(("entry", "fault"), [
    (FileEntity(0, "LINE", "PLATE", width=0.5), True),
    (FileEntity(0, "LINE", "plate"), True),
    (FileEntity(0, "LINE", "PLATE", width=0.25), False),
    (FileEntity(0, "LINE", "PLATE", dashes=(400.0, -0.75, 0.0, -0.75)), False),
    (FileEntity(0, "LINE", "AXES", width=0.5), False)])
def test_a_center_line_on_the_outlines_layer_may_differ_by_line_type_or_width(
    entry: FileEntity, fault: bool,
) -> None:
    """The line type's dash is longer than any stroke: each of them is drawn whole."""
    found = judged("gate-strap", strap_lines(), entry=entry)
    assert counts(found) == ({"center-line-layer": 1} if fault else {})


def test_construction_on_the_outlines_layer_is_no_center_line() -> None:
    """An axis alone, or lines through a center that is marked already: other rules have them."""
    lines = {name: list(strokes) for name, strokes in strap_lines().items()}
    axis, level = Line((0.0, -5.0), (0.0, 130.0)), Line((-30.0, 100.0), (30.0, 100.0))
    for outline, center in (([axis], {}), ([axis, level], lines)):
        drawn = handed_in("gate-strap", [*gate_strap().values(), *outline], center)
        assert drawn.center_evidence.misplaced == ()
    drawn = handed_in("gate-strap", [*gate_strap().values(), axis, level], without(lines, "bore"))
    assert counts(told(drawn))["center-line-layer"] == 1


def test_a_center_line_on_a_layer_of_its_own_is_not_on_the_outlines() -> None:
    """However its layer is called: what it was taken for does not matter."""
    drawn = handed_in("gate-strap", gate_strap(), strap_lines(), "outline",
                      FileEntity(0, "LINE", "K-7"))
    assert told(drawn) == {}


def test_what_lies_as_a_center_line_would_is_told_from_outline_and_from_strays() -> None:
    key = key_ready("gate-strap").explainer.key
    for strokes in strap_lines().values():
        assert all(looks_like_center_mark(stroke, key) for stroke in strokes)
    for curve in (*gate_strap().values(), Line((30.0, 20.0), (39.0, 15.0)),
                  Line((46.0, 40.0), (46.0, 60.0)), Line((0.0, 300.0), (0.0, 400.0)),
                  Circle((5.0, 100.0), 10.0)):
        assert not looks_like_center_mark(curve, key)
    flange = key_ready("pump-flange").explainer.key
    assert all(looks_like_center_mark(stroke, flange) for stroke in flange_lines()["pitch"])
    assert not any(looks_like_center_mark(curve, flange) for curve in pump_flange().values())


def test_a_part_file_has_its_center_lines_by_rule_unless_they_are_off(tmp_path) -> None:
    ready = key_ready("gate-strap")
    path = tmp_path / "strap.profile.json"
    save(ready.part, path)
    drawn = ready.compare(read_hand_in(path))
    assert all(isinstance(marking_rules()[name].decide(drawn), Undecided) for name in CENTER_RULES)
    off = {name: {"off": True} for name in ("h2/plumb", "h2/level", "h2'/level")}
    save(ready.part.having(drawing=replace(ready.part.drawing, centers=frozen(off))), path)
    found = told(ready.compare(read_hand_in(path)))
    assert counts(found) == {"center-mark-missing": 2}
    assert isinstance(marking_rules()["overhang"].decide(drawn), Undecided)
