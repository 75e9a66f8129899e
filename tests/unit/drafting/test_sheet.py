"""Sheets and scales, pages, and the errors of the drawing's settings."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sketcher.drafting.features import shown_pieces
from sketcher.drafting.paper_scale import scale_text, scale_value
from sketcher.drafting.paper_sizes import sheets
from sketcher.drafting.primitives import Text, item_box
from sketcher.drafting.sheet import pages
from sketcher.drafting.view_contents import contents_of
from sketcher.errors import FileError
from sketcher.exchange.sheet_file import write_sheet
from sketcher.part.store import load
from sketcher.part.value import Binding, CircleCurve, Drawing, LineCurve, Material, Part, frozen
from sketcher.solve import solve
from tests.refusals import refused

DEMO = Path(__file__).resolve().parents[3] / "demo_parts"


def plate(width: float, height: float, unit: str = "mm", **drawing) -> Part:
    points = {"p1": (0.0, 0.0), "p2": (width, 0.0), "p3": (width, height), "p4": (0.0, height),
              "k1": (width / 3, height / 2)}
    curves = {f"e{k}": LineCurve((f"p{k}", f"p{k % 4 + 1}")) for k in range(1, 5)}
    curves["h1"] = CircleCurve("k1", height / 10)
    bindings = {"f": Binding("fixed", ("p1",)), "l": Binding("level", ("e1",)),
                "l2": Binding("level", ("e3",)), "v": Binding("plumb", ("e2",)),
                "v2": Binding("plumb", ("e4",)),
                "b1": Binding("run", ("p1", "p2"), repr(width)),
                "b2": Binding("rise", ("p1", "p4"), repr(height)),
                "b3": Binding("diameter", ("h1",), repr(height / 5)),
                "b4": Binding("run", ("p1", "k1"), repr(width / 3)),
                "b5": Binding("rise", ("p1", "k1"), repr(height / 2))}
    return Part(name="Plate", unit=unit, material=Material("mild steel", 3.0),
                points=frozen(points), curves=frozen(curves), bindings=frozen(bindings),
                drawing=Drawing(**drawing))


@pytest.mark.parametrize(
    ("size", "sheet", "scale"),
    [((60, 40), "A4 lying", 2.0), ((100, 60), "A4 lying", 1.0), ((120, 120), "A4", 1.0),
     ((60, 160), "A4", 1.0), ((200, 80), "A4 lying", 1.0), ((300, 150), "A3", 1.0),
     ((200, 300), "A3 upright", 1.0), ((480, 250), "A2", 1.0), ((900, 500), "A2", 0.5),
     ((4000, 2500), "A2", 0.1), ((8, 5), "A4 lying", 20.0), ((250, 15), "A4 lying", 0.5)],
)
def test_the_smallest_sheet_that_holds_it_well_is_chosen(size, sheet, scale) -> None:
    """Scales of ISO 5455; a small part is enlarged, one lost on a larger sheet is reduced."""
    page = pages(plate(*size))[0]
    assert (page.sheet, page.view.factor) == (sheet, pytest.approx(scale))


def test_a_part_that_is_a_little_too_large_stays_on_the_small_sheet() -> None:
    """It comes nearer to the frame by up to 2.5 mm, and touches nothing."""
    strap = solve(load(DEMO / "gate-strap.profile.json")).part
    free = contents_of(strap, shown_pieces(strap, alone=True), 1.0, 3.5)
    page = pages(strap)[0]
    assert page.sheet == "A4"
    assert free.box[2] - free.box[0] > 168.0  # the free width of an A4: 210 less 30 and 6 each side
    assert not page.crowded
    left, bottom, right, top = sheets()["A4"].inner
    for item in page.all_items():
        if item.source.startswith(("curve", "center", "dimension")):
            x0, y0, x1, y1 = item_box(item)
            assert left < x0 <= x1 < right
            assert bottom < y0 <= y1 < top


@pytest.mark.parametrize(("drawing", "said"), [
    ({"sheet": "A4", "scale": "1:1"}, ("A4", "1:1", "take A3 at 1:1", "take 1:5 on A4")),
    ({"sheet": "A4 lying", "scale": "5:1"}, ("A4 lying", "5:1", "take 1:2 on A4 lying")),
    ({"scale": "50:1"}, ("any sheet", "50:1", "leave sheet and scale to fit")),
])
def test_what_does_not_fit_is_told_with_what_would(drawing, said) -> None:
    with refused("drawing") as caught:
        pages(plate(300, 150, **drawing))
    for words in said:
        assert words in f"{caught.value.problem}; {caught.value.remedy}"


def test_asme_sheets_hold_an_inch_part() -> None:
    page = pages(plate(6.0, 4.0, "in", practice="ASME"))[0]
    assert page.sheet == "A"
    assert page.size == pytest.approx((279.4, 215.9))  # ASME Y14.1: 11 x 8.5 in
    assert page.view.factor == pytest.approx(25.4)


def test_sheet_sizes_are_those_of_the_standards() -> None:
    """ISO 216 and ASME Y14.1 (8.5 x 11, 11 x 17, 17 x 22 in)."""
    sizes = {name: tuple(sorted(s.size)) for name, s in sheets().items()}
    assert (sizes["A4"], sizes["A3"]) == ((210, 297), (297, 420))
    assert sizes["A2"] == (420, 594)
    for name, inches in (("A", (8.5, 11)), ("B", (11, 17)), ("C", (17, 22))):
        assert sizes[name] == pytest.approx(tuple(25.4 * i for i in inches))


def test_a_chosen_sheet_and_scale_hold_or_say_that_they_cannot() -> None:
    page = pages(plate(100, 60, sheet="A2", scale="2:1"))[0]
    assert (page.sheet, page.view.factor) == ("A2", 2.0)
    with refused("drawing"):
        pages(plate(300, 150, sheet="A4", scale="1:1"))


@pytest.mark.parametrize("drawing", [{"sheet": "A9"}, {"scale": "huge"}, {"scale": "1:0"},
                                     {"tolerance": "good"}])
def test_a_wrong_setting_is_named(drawing) -> None:
    with refused(f"drawing.{next(iter(drawing))}"):
        pages(plate(100, 60, **drawing))


def test_scales_read_and_write_the_same() -> None:
    for text in ("1:1", "1:2", "5:1", "1:20", "1:2.5"):
        assert scale_text(scale_value(text)) == text


def test_an_empty_part_says_so() -> None:
    with refused("curves"):
        pages(Part())


def texts(page) -> list[str]:
    return [item.text for item in page.all_items() if isinstance(item, Text)]


def test_the_title_block_says_what_it_has_to() -> None:
    fields = frozen({"drawn by": "A. Student", "date": "2026-03-02", "number": "17"})
    said = texts(pages(plate(100, 60, fields=fields))[0])
    for wanted in ("Plate", "mild steel", "3 mm stock", "1:1", "A4", "A. Student", "2026-03-02",
                   "17", "1 of 1"):
        assert wanted in said
    assert any("ISO 2768-m" in text and "millimetres" in text for text in said)
    assert any("licensed engineer" in text for text in said)
    assert any("burrs" in text for text in said)


def test_further_pages_and_the_table_of_holes_come_on_request() -> None:
    part = plate(100, 60, hole_table=True, inspection_page=True, order_page=True)
    found = pages(part)
    assert [page.name for page in found] == ["drawing", "inspection", "construction order"]
    assert {"hole", "X", "Y", "A1", "33.333", "30", "Ø12"} <= set(texts(found[0]))
    assert "29.8" in texts(found[1])  # 30 less 0.2, ISO 2768-1 m
    assert any(text.startswith("1.") for text in texts(found[2]))
    assert "3 of 3" in texts(found[2])


def test_a_sheet_without_dimensions_is_an_exercise() -> None:
    page = pages(plate(100, 60, dimensions=False))[0]
    assert page.dimensions == ()


@pytest.mark.parametrize("suffix", [".svg", ".png"])
def test_one_file_a_page_where_the_form_holds_one(tmp_path, suffix) -> None:
    part = plate(100, 60, inspection_page=True)
    files = list(write_sheet(part, tmp_path / f"s{suffix}").files)
    assert [f.name for f in files] == [f"s{suffix}", f"s-2{suffix}"]
    assert all(f.stat().st_size > 1000 for f in files)


def test_an_unknown_form_and_a_missing_folder_are_refused(tmp_path) -> None:
    with pytest.raises(FileError, match=r"\.pdf"):
        write_sheet(plate(100, 60), tmp_path / "s.doc")
    with pytest.raises(FileError, match="folder"):
        write_sheet(plate(100, 60), tmp_path / "none" / "s.pdf")


def test_a_part_is_drawn_the_same_every_time() -> None:
    part = plate(100, 60)
    assert pages(part) == pages(replace(part))
