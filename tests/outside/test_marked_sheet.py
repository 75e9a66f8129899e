"""Written sheets of marked hand-ins read back by pdfplumber: numbers, places, words, overlaps."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from sketcher.marking.hand_in import HandCurve, HandIn
from sketcher.marking.marked_sheet import sheet_of_view
from sketcher.marking.marked_view import hand_view
from sketcher.marking.marks import ungraded
from sketcher.marking.rubric import Rubric
from sketcher.marking.ruled_rows import broken
from sketcher.marking.ungraded_sheet import ungraded_pages
from tests.marked_pages import assert_tidy, leaders, pointed_at, read, text_of
from tests.marked_views import HOLE, OUTLINE, TALL, WIDE, given, plate_view
from tests.ready_keys import demo_solved

CORNER = [(WIDE - 1.5 * k, 0.8 * k) for k in range(6)] + [(WIDE, 1.7 * k) for k in range(1, 7)]


@pytest.mark.parametrize("places", [
    [(WIDE, 0.0), HOLE.center, (0.0, TALL)], CORNER], ids=["three", "twelve at a corner"])
def test_each_number_points_at_its_place(places) -> None:
    (sheet,) = read(sheet_of_view(plate_view(), given(places), "17"))
    assert_tidy(sheet)
    tips = pointed_at(sheet)
    for number, at in enumerate(places, 1):
        assert any(math.dist(tip, sheet.on_paper(at)) < 1.0 for tip in tips[str(number)]), number


def test_rings_stand_clear_of_what_is_drawn() -> None:
    places = [(WIDE, 0.0), HOLE.center, (0.0, TALL), (50.0, TALL), (WIDE, 30.0)]
    (sheet,) = read(sheet_of_view(plate_view(), given(places), "17"))
    pointing = leaders(sheet)
    assert len(pointing) == len(places)
    for _, ring, _ in pointing:
        assert min(d.distance(ring.center) for d in sheet.wide) > ring.radius


def test_places_that_print_as_one_share_a_leader() -> None:
    places = [(WIDE, 0.0), (WIDE, 0.1), (WIDE - 0.1, 0.0)]
    (sheet,) = read(sheet_of_view(plate_view(), given(places), "17"))
    assert_tidy(sheet)
    tips = pointed_at(sheet)
    assert sum(len(tips[number]) for number in ("1", "2", "3")) == 1


def test_the_table_says_everything() -> None:
    marks = given([(0.0, 0.0), HOLE.center], points=4.0, undecided={"wrong-value": "no evidence"},
                  turned=90.0, mirrored=True, unit="in", told=("a spline was read as arcs",))
    sheets = read(sheet_of_view(plate_view(), marks, "Number 17"))
    said = text_of(sheets)
    for wanted in ("Number 17", "92 of 100", "Corner plate", "−4", "1.5", "2.5",
                   "the hole is drawn with 13, not 12 (1)", "the hole is drawn with 13, not 12 (2)",
                   "inches", "90°", "mirrored", "no evidence", "a spline was read as arcs"):
        assert wanted in said, wanted


def test_nothing_to_take_off() -> None:
    (sheet,) = read(sheet_of_view(plate_view(), given([]), "17"))
    assert_tidy(sheet)
    assert "100 of 100" in text_of([sheet])
    assert sheet.rings() == []


def test_more_than_fit_go_on_a_second_page() -> None:
    places = [(5.0 * (k % 20), 12.0 * (k // 20)) for k in range(40)]
    sheets = read(sheet_of_view(plate_view(), given(places), "17"))
    assert len(sheets) > 1
    for sheet in sheets:
        assert_tidy(sheet)
    said, tips = text_of(sheets), pointed_at(sheets[0])
    for number in range(1, 41):
        assert f"({number})" in said
        assert any(math.dist(tip, sheets[0].on_paper(places[number - 1])) < 1.0
                   for tip in tips[str(number)])


def test_a_gap_that_does_not_print_is_shown_larger() -> None:
    """0.02 mm at 1:1 is nothing; in its close-up the ends are 3 to 10 mm apart."""
    cut = ((WIDE - 0.02, 0.0))
    outline = [OUTLINE[0].__class__((0.0, 0.0), cut), *OUTLINE[1:]]
    (sheet,) = read(sheet_of_view(plate_view(outline), given([cut]), "17"))
    assert_tidy(sheet)
    (circle,) = [d for d in sheet.narrow if d.center is not None and d.radius > 10.0]
    inside = [d for d in sheet.wide if d.length < 60.0 and all(
        math.dist(p, circle.center) < circle.radius + 0.01 for p in (d.start, d.end))]
    level = [p for d in inside if abs(d.start[1] - d.end[1]) < 0.01 for p in (d.start, d.end)]
    plumb = [p for d in inside if abs(d.start[0] - d.end[0]) < 0.01 for p in (d.start, d.end)]
    gap = min(math.dist(p, q) for p in level for q in plumb)
    assert 3.0 < gap < 10.0
    (scale,) = [text for text, _ in sheet.words if text.endswith(":1") and text != "1:1"]
    assert gap == pytest.approx(0.02 * float(scale.removesuffix(":1")), abs=0.05)


def test_a_place_beside_the_outline_has_no_empty_close_up() -> None:
    """At 200:1 nothing of the outline is within 14 mm of a place 0.5 mm beside it."""
    cut = (WIDE - 0.02, 0.0)
    outline = [OUTLINE[0].__class__((0.0, 0.0), cut), *OUTLINE[1:]]
    (sheet,) = read(sheet_of_view(plate_view(outline), given([(WIDE - 0.5, 0.5)]), "17"))
    assert [d for d in sheet.narrow if d.center is not None and d.radius > 10.0] == []


def test_what_prints_large_has_no_close_up() -> None:
    outline = [OUTLINE[0].__class__((0.0, 0.0), (WIDE - 5.0, 0.0)), *OUTLINE[1:]]
    (sheet,) = read(sheet_of_view(plate_view(outline), given([(WIDE - 5.0, 0.0)]), "17"))
    assert [d for d in sheet.narrow if d.center is not None and d.radius > 10.0] == []


def test_a_hand_in_that_fits_nowhere_is_shown_with_the_reason_and_the_key() -> None:
    hand_in = HandIn("0.dxf", tuple(HandCurve(curve, k) for k, curve in enumerate(OUTLINE, 1)))
    key = demo_solved("gate-strap").part
    sheets = read(ungraded_pages(
        key, ungraded("0.dxf", "no outline fits the key", Rubric()), "Number 17",
        hand_view(key, hand_in)))
    for sheet in sheets:
        assert_tidy(sheet)
    said = text_of(sheets)
    for wanted in ("Number 17", "not graded", "No outline fits the key.", "Gate strap"):
        assert wanted in said
    holes = [ring for sheet in sheets for ring in sheet.wide
             if ring.center is not None and ring.high - ring.low > 6.28]
    assert len(holes) == 4  # one of the plate, three of the strap


def test_a_waived_deduction_is_neither_ringed_nor_counted() -> None:
    marks = given([(0.0, 0.0), (WIDE, TALL / 2.0), HOLE.center])
    one, other, last = marks.deductions
    marks = replace(marks, points=98.0, deductions=(one, replace(other, ruling="waived"), last))
    (sheet,) = read(sheet_of_view(plate_view(), marks, "17"))
    assert {number for number, _ in sheet.rings()} == {"1", "3"}
    said = text_of([sheet])
    assert "2 taken off" in said
    assert "Waived: 2." in said
    assert "not 12 (2)" not in said


def test_many_mistakes_that_take_nothing_share_a_row() -> None:
    marks = given([(3.0 * k, 0.0) for k in range(30)])
    marks = replace(marks, points=97.0, deductions=tuple(
        replace(each, points=float(each.number <= 3)) for each in marks.deductions))
    sheets = read(sheet_of_view(plate_view(), marks, "17"))
    assert len(sheets) == 1
    said = text_of(sheets)
    assert "4–30" in said
    assert "and 15 more" in said
    assert "0 points: more of the same mistake" in said


def test_a_mixed_number_stays_on_one_line() -> None:
    """Each width breaks the text elsewhere; none may part 1 from 3/4."""
    text = "the run of 2 from the left edge is drawn 1 3/4"
    for width in range(20, 80):
        assert any("1 3/4" in line for line in broken(text, 2.5, float(width)))


def test_what_is_on_a_sheet_alone_points_at_nothing() -> None:
    marks = given([(400.0, 400.0), (-300.0, 0.0)], rule="title-block")
    (sheet,) = read(sheet_of_view(plate_view(), marks, "17"))
    assert_tidy(sheet)
    assert leaders(sheet) == []
    assert "Whole sheet:" in text_of([sheet])
    assert [number for number, _ in sheet.rings()].count("2") == 2  # in the picture and the table


@pytest.mark.parametrize("practice", ["ISO", "ASME"])
def test_a_long_name_is_not_cut_off_by_the_frame(practice: str) -> None:
    name = "Number 17, " + "a very long name " * 8
    shown = plate_view(practice=practice, name="A corner plate with a long name " * 3)
    (sheet,) = read(sheet_of_view(shown, given([HOLE.center]), name))
    assert_tidy(sheet)
    assert "99 of 100" in text_of([sheet])
