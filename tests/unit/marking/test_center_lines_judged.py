"""How center lines were drawn: plus, overhang, doubling, line types; limits on both sides."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest

from sketcher.exchange.dxf_content import FileEntity
from sketcher.geometry.curves import Circle, Curve, Line
from sketcher.geometry.evaluate import moved
from sketcher.marking.dash_phase import dashes_along
from sketcher.marking.marking_rule import Mistake
from sketcher.marking.rules import marking_rules
from sketcher.part.value import frozen
from tests.ready_keys import key_ready
from tests.unit.marking.by_hand import gate_strap
from tests.unit.marking.centers_by_hand import (
    INCH,
    ISO,
    beside,
    bracket_lines,
    counts,
    cross,
    drawn_in,
    flange_lines,
    gusset_lines,
    judged,
    straight,
    strap_lines,
    tick,
    told,
    turned,
)

BORE = (0.0, 100.0)


def strap_with(bore: list[Curve], **more: list[Curve]) -> dict[str, tuple[Mistake, ...]]:
    """The gate strap by the book but for the level line of its bore, Ø20."""
    return judged("gate-strap", strap_lines() | {"bore": bore} | more)


def test_dashes_of_a_line_type_lie_evenly_about_its_middle() -> None:
    """Reckoned by hand: 8 repeats of 16 on 128 leave nothing over, 7 of 18 on 128 leave 2."""
    even = dashes_along(128.0, (10.0, -1.5, 3.0, -1.5))
    assert even[:3] == ((0.0, 5.0), (6.5, 9.5), (11.0, 21.0))
    assert even[-1] == (123.0, 128.0)
    assert len(even) == 17
    left = dashes_along(128.0, (12.0, -1.5, 3.0, -1.5))
    assert left[:2] == ((0.0, 7.0), (8.5, 11.5))
    assert left[-1] == pytest.approx((121.0, 128.0))
    assert dashes_along(7.6, (6.0, -0.75, 0.0, -0.75))[1] == pytest.approx((3.8, 3.8))  # a point
    assert dashes_along(15.9, (10.0, -1.5, 3.0, -1.5)) == ((0.0, 15.9),)
    assert dashes_along(20.0, ()) == ((0.0, 20.0),)


def test_an_unbroken_line_through_a_large_hole_covers_its_plus() -> None:
    found = strap_with([Line((-13.0, 100.0), (13.0, 100.0))])
    assert counts(found) == {"plus-covered": 1}
    assert found["plus-covered"][0].at == pytest.approx(BORE)


def test_one_arm_drawn_up_to_the_plus_covers_it() -> None:
    arms = tick(BORE, 10.0, ISO, 0.0)
    assert counts(strap_with([*arms, Line((1.0, 100.0), (3.0, 100.0))])) == {"plus-covered": 1}
    assert strap_with([*arms, Line((3.0, 100.0), (3.5, 100.0))]) == {}  # from arm to arm


def test_lines_that_cross_in_a_gap_are_no_plus() -> None:
    found = strap_with([Line((-13.0, 100.0), (-2.0, 100.0)), Line((2.0, 100.0), (13.0, 100.0))])
    assert counts(found) == {"plus-covered": 1}
    assert "in a gap" in found["plus-covered"][0].text


def test_lines_may_cross_on_long_dashes_with_the_gaps_within_the_hole() -> None:
    """As ISO 128 has it."""
    assert strap_with([Line((-6.0, 100.0), (6.0, 100.0)), Line((7.0, 100.0), (13.0, 100.0)),
                       Line((-13.0, 100.0), (-7.0, 100.0))]) == {}


@pytest.mark.parametrize(("radius", "fault"), [(4.5, False), (6.0, True)])
def test_the_lines_of_a_small_hole_may_be_unbroken(radius: float, fault: bool) -> None:
    """Below Ø12; the strap's bolt holes are Ø9, the gusset's eye is Ø12."""
    if radius == 4.5:
        lines = strap_lines(row=False)
        lines["plumb"] = [Line((46.0, 4.5), (46.0, 19.5))]
        found = judged("gate-strap", lines)
    else:
        lines = gusset_lines()
        first, last = lines["eye"][1], lines["eye"][2]
        assert isinstance(first, Line)
        assert isinstance(last, Line)
        lines["eye"] = [Line(first.start, last.end)]
        found = judged("roof-gusset", lines)
    assert counts(found) == ({"plus-covered": 1} if fault else {})


def test_a_small_hole_with_a_gap_on_one_side_only_is_covered() -> None:
    lines = strap_lines(row=False)
    lines["plumb"] = [Line((46.0, 4.5), (46.0, 13.5)), Line((46.0, 14.25), (46.0, 19.5))]
    assert counts(judged("gate-strap", lines)) == {"plus-covered": 1}


@pytest.mark.parametrize(("pattern", "fault"), [
    ((10.0, -1.5, 3.0, -1.5), ""),
    ((6.0, -0.75, 0.0, -0.75), ""),
    ((11.0, -2.0, 3.0, -2.0), "a gap"),
    ((28.0, -1.5, 3.0, -1.5), "no gap beside the plus"),
    ((300.0, -1.5, 3.0, -1.5), "no gap beside the plus")])
def test_the_phase_of_a_line_type_says_what_lies_on_the_center(
    pattern: tuple[float, ...], fault: str,
) -> None:
    """The axis of the strap is one line of 128 from 3 below it; its bore is at 103 along it.

    Reckoned by hand. Repeats of 16: 8, the first dash to 5, a short dash from 5 + 6 * 16 + 1.5 =
    102.5 to 105.5. Of 7.5: 17, 0.5 left, the first dash to 3.25, a long one from 3.25 + 13 * 7.5 +
    1.5 = 102.25 to 108.25, all within the hole. Of 18: 7, 2 left, the first to 6.5, a gap from
    6.5 + 5 * 18 + 5 = 101.5 to 103.5. Of 34: 3, 26 left, the first to 27, the last from 27 + 2 * 34
    + 6 = 101 to the end, past the hole. One of 304.5 does not fit: unbroken.
    """
    lines = strap_lines() | {"axis": [Line((0.0, -3.0), (0.0, 125.0))]}
    drawn = beside("gate-strap", lines)
    entities = dict(drawn.hand_in.entities)
    number = next(each.entity for each in drawn.hand_in.of_role("center")
                  if each.curve == lines["axis"][0])
    entities[number] = replace(entities[number], dashes=pattern)
    found = told(replace(drawn, hand_in=replace(drawn.hand_in, entities=frozen(entities))))
    assert counts(found) == ({"plus-covered": 1} if fault else {})
    if fault:
        assert found["plus-covered"][0].found == fault


@pytest.mark.parametrize(("over", "text"), [
    (1.9, "only 1.9"), (2.0, ""), (6.0, ""), (6.1, "6.1")])
def test_an_overhang_is_from_two_to_six_millimetres(over: float, text: str) -> None:
    found = strap_with(tick(BORE, 10.0, replace(ISO, over=over), 0.0))
    assert counts(found) == ({"overhang": 1} if text else {})
    if text:
        assert found["overhang"][0].text == f"the center line runs {text} past the outline"
        assert found["overhang"][0].wanted == "2 to 6"


@pytest.mark.parametrize(("more", "fault"), [(1.5, False), (1.6, True)])
def test_the_two_overhangs_of_a_line_are_even(more: float, fault: bool) -> None:
    found = strap_with(straight((-13.0, 100.0), (13.0 + more, 100.0), [BORE], ISO))
    assert counts(found) == ({"overhang": 1} if fault else {})


def test_a_teacher_may_set_the_greatest_overhang() -> None:
    drawn = beside("gate-strap", strap_lines(replace(ISO, over=5.0)))
    assert told(drawn) == {}
    assert counts(told(replace(drawn, limits=frozen({"overhang": 4.0})))) == {"overhang": 5}


@pytest.mark.parametrize(("over", "found"), [
    (1 / 32, ".03"), (1 / 16, ""), (1 / 4, ""), (5 / 16, ".31")])
def test_an_inch_overhang_is_from_a_sixteenth_to_a_quarter(over: float, found: str) -> None:
    lines = bracket_lines() | {"peg": cross((1.0, 3.75), 3 / 16, replace(INCH, over=over))}
    mistakes = judged("shelf-bracket", lines)
    assert counts(mistakes) == ({"overhang": 2} if found else {})
    if found:
        assert mistakes["overhang"][0].found == found
        assert mistakes["overhang"][0].wanted == ".06 to .25"


def test_a_line_may_run_past_another_edge_than_its_own_or_past_the_axis() -> None:
    """From edge to edge, and from a bolt hole past the axis, each by 3 mm."""
    lines = strap_lines(row=False)
    lines["level"] = straight((-3.0, 12.0), (63.0, 12.0), [(46.0, 12.0)], ISO)
    assert judged("gate-strap", lines) == {}
    lines["level"] = straight((-13.0, 12.0), (63.0, 12.0), [(46.0, 12.0)], ISO)
    assert counts(judged("gate-strap", lines)) == {"overhang": 1}


@pytest.mark.parametrize(("end", "rule", "found"), [
    (9.0, "center-line-short", "1 inside"), (10.0, "center-line-short", "on"),
    (10.3, "overhang", "0.3"), (12.0, "", "")])
def test_a_line_that_ends_inside_its_hole_is_short(end: float, rule: str, found: str) -> None:
    mistakes = strap_with(straight((-12.5, 100.0), (end, 100.0), [BORE], ISO))
    assert counts(mistakes) == ({rule: 1} if rule else {})
    if rule:
        assert mistakes[rule][0].found == found


def test_an_axis_that_ends_inside_the_part_is_short() -> None:
    axis = straight((0.0, -3.0), (0.0, 118.0), [BORE], ISO)
    found = judged("gate-strap", strap_lines() | {"axis": axis})
    assert counts(found) == {"center-line-short": 1}
    assert found["center-line-short"][0].found == "4 inside"


@pytest.mark.parametrize(("aside", "fault"), [(0.0, True), (0.1, True), (0.3, True), (0.6, False)])
def test_a_line_drawn_twice_is_doubled_and_nothing_else(aside: float, fault: bool) -> None:
    """Nearer than 0.4 mm two lines print as one; farther aside the copy misses the center."""
    again = [moved(stroke, 0.0, aside) for stroke in tick(BORE, 10.0, ISO, 0.0)]
    found = strap_with(tick(BORE, 10.0, ISO, 0.0), again=again)
    assert counts(found) == ({"center-line-doubled": 1} if fault else {})


def test_the_axis_and_a_mark_drawn_over_it_are_doubled() -> None:
    found = strap_with(tick(BORE, 10.0, ISO, 0.0),
                       plumb_of_bore=[Line((0.0, 87.0), (0.0, 113.0))])
    assert counts(found) == {"center-line-doubled": 1}


@pytest.mark.parametrize(("shared", "fault"), [(0.0, False), (0.9, False), (1.1, True)])
def test_pieces_of_a_line_may_meet_but_not_overlap(shared: float, fault: bool) -> None:
    lines = strap_lines(row=False)
    lines["plumb"] = [Line((46.0, 4.5), (46.0, 12.0)), Line((46.0, 12.0 - shared), (46.0, 19.5))]
    assert counts(judged("gate-strap", lines)) == ({"center-line-doubled": 1} if fault else {})


def test_a_pitch_circle_drawn_twice_is_doubled() -> None:
    lines = flange_lines()
    assert counts(judged("pump-flange", lines | {"again": [Circle((0.0, 0.0), 30.0)]})) == {
        "center-line-doubled": 1}
    lines["pitch"] = [Circle((0.0, 0.0), 30.0)]
    assert judged("pump-flange", lines) == {}


def test_level_and_plumb_marks_are_right_on_a_part_at_an_angle() -> None:
    lines = gusset_lines(row=False)
    eye = turned((2.0 * (12.5 + 40.0 * 0.75 ** 0.5 - 14.0), 0.0))
    lines["eye"] = cross(eye, 6.0, ISO)
    assert judged("roof-gusset", lines) == {}
    lines["eye"] = tick(eye, 6.0, ISO, 0.5 * pi)
    assert judged("roof-gusset", lines) == {}


def test_a_line_type_on_one_layer_is_read_with_the_scale_of_the_drawing() -> None:
    """A pattern of 16 in a file to 1:1: on the bore's 26 it fits once, with its short dash there.

    The first dash is 10, the short one from 11.5 to 14.5 about 13, the middle.
    """
    lines = {"axis": strap_lines()["axis"], "bore": [Line((-13.0, 100.0), (13.0, 100.0))]}
    entry = FileEntity(0, "LINE", "AXES", (10.0, -1.5, 3.0, -1.5))
    assert "plus-covered" not in judged("gate-strap", lines, entry)
    entry = replace(entry, dashes=(100.0, -15.0, 30.0, -15.0))
    assert counts(judged("gate-strap", lines, entry))["plus-covered"] == 1


def test_a_header_with_the_wrong_unit_is_no_scale_of_center_lines() -> None:
    """The numbers are millimetres: an overhang of 3 mm is one, whatever the header calls them."""
    drawn = replace(drawn_in("gate-strap", gate_strap(), strap_lines()), unit="mm", factor=10.0)
    comparison = key_ready("gate-strap").compare(drawn)
    assert [each.found for each in marking_rules()["wrong-unit"].decide(comparison)] == [
        "millimetres"]
    assert told(comparison) == {}
