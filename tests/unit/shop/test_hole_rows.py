"""The list of holes: names as on the sheet, kinds, order, and what is said of each."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from math import cos, dist, radians, sin

import pytest

from sketcher.drafting.primitives import Text, item_box
from sketcher.drafting.sheet import pages
from sketcher.errors import SketcherError
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Binding, Drawing, Mirror, Part, PolarPattern
from sketcher.shop.hole_csv import as_csv, titles
from sketcher.shop.hole_rows import HoleRow, hole_rows
from tests.plates import plate, rectangle


def halves(**drawing: object) -> Part:
    """The right half of a plate of 120 by 60: two sizes, one hole on the axis, in two arcs."""
    draft = Draft(Part(name="=1+1"))
    draft.line((0.0, -30.0), (0.0, 30.0), role="axis", name="m")
    draft.line((0.0, -30.0), (60.0, -30.0))
    draft.line((60.0, -30.0), (60.0, 30.0))
    draft.line((60.0, 30.0), (0.0, 30.0))
    draft.arc((0.0, -8.0), (0.0, 8.0), (0.0, 0.0), "ccw", name="bore")
    draft.circle((40.0, 20.0), 3.0, name="h")
    draft.circle((40.0, -20.0), 3.0, name="k")
    draft.bind("diameter", ["h"], "6")
    draft.set_mirrors([Mirror("m")])
    return draft.done().having(drawing=Drawing(**drawing))


def slotted(turn: float = 30.0, **drawing: object) -> Part:
    """A square plate with a straight slot of 8 by 28 turned by an angle, and one of 6 on R30."""
    draft = Draft(Part())
    corners = [(-50.0, -50.0), (50.0, -50.0), (50.0, 50.0), (-50.0, 50.0)]
    for k, at in enumerate(corners):
        draft.line(at, corners[(k + 1) % 4], name=f"e{k + 1}")
    c, s = cos(radians(turn)), sin(radians(turn))

    def at(x: float, y: float) -> tuple[float, float]:
        return (c * x - s * y, s * x + c * y)

    draft.line(at(-10, -4), at(10, -4))
    draft.arc(at(10, -4), at(10, 4), at(10, 0), "ccw")
    draft.line(at(10, 4), at(-10, 4))
    draft.arc(at(-10, 4), at(-10, -4), at(-10, 0), "ccw")

    def on(radius: float, degrees: float) -> tuple[float, float]:
        return (radius * cos(radians(degrees)), radius * sin(radians(degrees)))

    draft.arc(on(27, 20), on(27, 80), (0.0, 0.0), "ccw")
    draft.arc(on(33, 80), on(27, 80), on(30, 80), "ccw")
    draft.arc(on(33, 20), on(33, 80), (0.0, 0.0), "ccw")
    draft.arc(on(27, 20), on(33, 20), on(30, 20), "ccw")
    return draft.done().having(drawing=Drawing(**drawing))


def kinds(part: Part) -> dict[str, HoleRow]:
    """Rows by kind."""
    return {row.kind: row for row in hole_rows(part).rows}


def test_reflected_holes_are_listed_and_one_in_two_arcs_is_one() -> None:
    rows = {row.name: row for row in hole_rows(halves()).rows}
    assert {name: row.at for name, row in rows.items()} == {
        "A1": (60.0, 30.0), "B1": (20.0, 10.0), "B2": (100.0, 10.0), "B3": (20.0, 50.0),
        "B4": (100.0, 50.0)}
    assert rows["A1"].width == 16.0
    assert set(rows["A1"].ids) == {"bore", "bore'"}


def test_a_sheet_of_the_half_has_the_same_names() -> None:
    part = halves(show_half=True, hole_table=True)
    listed = {row.name: row for row in hole_rows(part).rows}
    assert len(listed) == 5
    sheet = [item.text for item in pages(part)[0].items
             if isinstance(item, Text) and item.source == "sheet:holes"]
    k = sheet.index("A1")
    assert sheet[k:k + 4] == ["A1", "-20", "10", "Ø6"]  # from the half's own corner
    assert listed["A1"].at == (-20.0, 10.0)
    assert listed["A1"].ids == ("k",)
    assert {name for name, row in listed.items() if row.width == 16.0} == {"B1"}


def test_slots_have_both_ends_and_a_curved_one_its_angles() -> None:
    part = slotted(table_zero="e1,e4")
    slot, curved = kinds(part)["slot"], kinds(part)["curved slot"]
    assert (slot.at, slot.width, slot.size) == (pytest.approx((50.0, 50.0)), pytest.approx(8.0),
                                                "8 x 28 at 30°")
    ends = sorted(slot.ends)
    assert ends[1] == pytest.approx((50.0 + 10.0 * cos(radians(30.0)), 55.0))
    assert dist(*ends) == pytest.approx(20.0)
    assert (curved.at, curved.radius, curved.width) == (
        pytest.approx((50.0, 50.0)), pytest.approx(30.0), pytest.approx(6.0))
    assert curved.angles == pytest.approx((20.0, 80.0))
    assert curved.ends[0] == pytest.approx((50.0 + 30.0 * cos(radians(20.0)),
                                            50.0 + 30.0 * sin(radians(20.0))))
    assert curved.size == "6 on R30, 20° to 80°"


def test_angles_are_told_against_x() -> None:
    up = slotted(table_along="e2")  # its plumb edge: X runs up, Y to the left
    assert kinds(up)["slot"].size == "8 x 28 at 120°"
    assert kinds(up)["curved slot"].angles == pytest.approx((290.0, 350.0))
    assert hole_rows(up).axes.place((-50.0, 40.0))[0] == pytest.approx(90.0)
    sheet = pages(slotted(table_along="e2", hole_table=True))[0]
    texts = [item.text for item in sheet.items if isinstance(item, Text)]
    assert "8 x 28 at 120°" in texts
    assert "X" in [item.text for item in sheet.items if item.source == "hole:X"]
    level = pages(slotted(hole_table=True))[0]
    assert not [item for item in level.items if item.source in ("hole:X", "hole:along")]


def test_one_size_after_the_other_each_from_where_the_last_ended() -> None:
    points, lines = rectangle(100.0, 20.0)
    at = {"a": (90.0, 10.0), "b": (10.0, 10.0), "c": (50.0, 10.0), "d": (30.0, 10.0)}
    part = plate({**points, **at}, {**lines, "h1": ("a", 3.0), "h2": ("b", 3.0), "h3": ("c", 4.0),
                                    "h4": ("d", 3.0)})
    found = hole_rows(part)
    assert [row.ids for row in found.rows] == [("h3",), ("h4",), ("h2",), ("h1",)]
    assert found.travel == pytest.approx(dist((0, 0), (50, 10)) + 20 + 20 + 80)


def test_a_part_of_a_circle_begins_behind_its_gap() -> None:
    draft = Draft(Part())
    corners = [(-30.0, -30.0), (30.0, -30.0), (30.0, 30.0), (-30.0, 30.0)]
    for k, at in enumerate(corners):
        draft.line(at, corners[(k + 1) % 4], name=f"e{k + 1}")
    center = draft.point((0.0, 0.0))
    draft.circle((20.0 * cos(radians(-30)), 20.0 * sin(radians(-30))), 2.0, name="h")
    draft.pattern(PolarPattern(("h",), center, 4, "90"))
    (circle,) = hole_rows(draft.done()).circles
    assert (circle.first, circle.step) == (pytest.approx(330.0), pytest.approx(30.0))
    assert circle.angles == pytest.approx((330.0, 0.0, 30.0, 60.0))
    assert circle.chord == pytest.approx(40.0 * sin(radians(15.0)))


@pytest.mark.parametrize(("drawing", "said"), [
    ({"table_zero": "nowhere"}, "table_zero.*no point named 'nowhere', and no hole"),
    ({"table_zero": "pe1"}, "pe1 is an edge: it takes two"),
    ({"table_zero": "pe1,pe3"}, "pe1 and pe3 are parallel"),
    ({"table_zero": "pe1,h"}, "h is round"),
    ({"table_zero": "pe1,pe2,pe3"}, "more than two edges"),
    ({"table_along": "pe9"}, "table_along.*no edge named 'pe9'"),
    ({"table_along": "c,h"}, "c and h are one place"),
    ({"table_along": "p1,p2,p3"}, "more than two places"),
])
def test_a_zero_or_a_direction_that_there_is_not(drawing: dict[str, str], said: str) -> None:
    points, lines = rectangle(40.0, 20.0)
    part = plate({**points, "c": (10.0, 10.0)}, {**lines, "h": ("c", 3.0)},
                 drawing=Drawing(**drawing))
    with pytest.raises(SketcherError, match=said):
        hole_rows(part)


def rows_of(part: Part) -> list[dict[str, str]]:
    """The CSV as Python's own reader reads it."""
    return list(csv.DictReader(io.StringIO(as_csv(hole_rows(part)), newline="")))


def test_the_csv_says_lengths_to_the_digit_with_a_zero_that_has_no_sign() -> None:
    part = halves(table_zero="h")
    first = {row["name"]: row for row in rows_of(part)}["B4"]
    assert (first["X (mm)"], first["Y (mm)"], first["size"]) == ("0.000", "0.000", "Ø6")
    assert first["diameter or width (mm)"] == "6.000"
    inch = replace(part, unit="in", drawing=Drawing(table_zero="m"))
    with pytest.raises(SketcherError, match="m is an edge"):
        as_csv(hole_rows(inch))
    inch = replace(inch, drawing=Drawing())
    assert rows_of(inch)[0]["X (in)"] == "60.0000"
    assert set(titles("in")) == set(rows_of(inch)[0])


def test_what_a_spreadsheet_would_work_out_stays_text() -> None:
    points, lines = rectangle(40.0, 20.0)
    part = plate({**points, "c": (10.0, 10.0)}, {**lines, "h": ("c", 3.0)},
                 Binding("diameter", ("h",), "6", drives=False))
    assert rows_of(part)[0]["size"] == "(Ø6)"
    for row in rows_of(slotted(turn=-30.0)):
        assert not any(cell.startswith(("=", "+", "@")) for cell in row.values())


def test_the_arrow_along_x_stands_clear_of_a_hole_and_of_its_label() -> None:
    page = pages(halves(table_zero="h", table_along="h,k", hole_table=True))[0]
    at, scale = page.view.point((40.0, 20.0)), page.view.factor
    arrow = [item.curve for item in page.items if item.source == "hole:along"]
    assert min(dist(at, end) for line in arrow for end in (line.start, line.end)) > 3.0 * scale
    (label,) = [item for item in page.items if item.source == "hole:X0 Y0"]
    boxes = [item_box(label)]
    x0, y0, x1, y1 = boxes[0]
    near = (min(max(x0, at[0]), x1), min(max(y0, at[1]), y1))
    assert dist(near, at) > 3.0 * scale  # outside of its hole
    assert not any(x0 < x < x1 and y0 < y < y1 for line in arrow for x, y in (line.start, line.end)
                   for x0, y0, x1, y1 in boxes)
