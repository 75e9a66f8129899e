"""Written sheets of marked hand-ins read back by pdfplumber: numbers, places, words, overlaps."""

from __future__ import annotations

import math

import pytest

from sketcher.marking.marked_sheet import sheet_of_view
from tests.marked_pages import assert_tidy, leaders, pointed_at, read, text_of
from tests.marked_views import HOLE, OUTLINE, TALL, WIDE, given, plate_view

CORNER = [(WIDE - 1.5 * k, 0.8 * k) for k in range(6)] + [(WIDE, 1.7 * k) for k in range(1, 7)]


@pytest.mark.parametrize("places", [
    [(WIDE, 0.0), HOLE.center, (0.0, TALL)], CORNER], ids=["three", "twelve at a corner"])
def test_each_number_points_at_its_place(places) -> None:
    (sheet,) = read(sheet_of_view(plate_view(), given(places), "17"))
    assert_tidy(sheet)
    for number, at in enumerate(places, 1):
        tips = pointed_at(sheet, str(number))
        assert any(math.dist(tip, sheet.on_paper(at)) < 1.0 for tip in tips), number


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
    assert sum(len(pointed_at(sheet, str(number))) for number in (1, 2, 3)) == 1


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
    said = text_of(sheets)
    for number in range(1, 41):
        assert f"({number})" in said
        assert any(math.dist(tip, sheets[0].on_paper(places[number - 1])) < 1.0
                   for tip in pointed_at(sheets[0], str(number)))


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


def test_what_prints_large_has_no_close_up() -> None:
    outline = [OUTLINE[0].__class__((0.0, 0.0), (WIDE - 5.0, 0.0)), *OUTLINE[1:]]
    (sheet,) = read(sheet_of_view(plate_view(outline), given([(WIDE - 5.0, 0.0)]), "17"))
    assert [d for d in sheet.narrow if d.center is not None and d.radius > 10.0] == []
