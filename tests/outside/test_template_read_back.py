"""A template printed, read back by pdfplumber and laid together, is the plate; all invented.

The plates are made here of circles and corners, so shapely knows them without the program.
"""

from __future__ import annotations

import math
from io import BytesIO
from pathlib import Path

import pdfplumber
import pytest
import shapely
import shapely.affinity

from sketcher.drafting.template.template_pages import template
from sketcher.exchange.template_file import write_template
from sketcher.part.value import CircleCurve, LineCurve, Part, frozen
from tests.template_reader import BAND, Judged, TileSheet, judged, laid_together, read_template

XY = tuple[float, float]
FINE = 180
"""Chords of a quarter turn: 0.0016 mm off a circle of 170 mm."""
CORNERS = ((0.0, 0.0), (330.0, 0.0), (330.0, 40.0), (60.0, 40.0), (60.0, 260.0), (0.0, 260.0))
RIM = [(0.0, 0.0, 170.0), (0.0, 0.0, 20.0),
       *((140.0 * math.cos(k * math.pi / 6), 140.0 * math.sin(k * math.pi / 6), 6.0)
         for k in range(12))]
BRACKET = [(20.0, 230.0, 4.5), (20.0, 20.0, 1.0), (305.0, 20.0, 8.0)]


def plate(circles, corners=(), unit: str = "mm", name: str = "Cover") -> Part:
    points = {f"c{k}": (x, y) for k, (x, y, _) in enumerate(circles)}
    curves = {f"h{k}": CircleCurve(f"c{k}", r) for k, (_, _, r) in enumerate(circles)}
    points |= {f"p{k}": at for k, at in enumerate(corners)}
    curves |= {f"e{k}": LineCurve((f"p{k}", f"p{(k + 1) % len(corners)}"))
               for k in range(len(corners))}
    return Part(name=name, unit=unit, points=frozen(points), curves=frozen(curves))


def shapes(circles, corners=(), factor: float = 1.0) -> list[shapely.Polygon]:
    found = [shapely.Point(x, y).buffer(r, quad_segs=FINE) for x, y, r in circles]
    found += [shapely.Polygon(corners)] if corners else []
    return [shapely.affinity.scale(one, abs(factor) * math.copysign(1.0, factor), abs(factor),
                                   origin=(0.0, 0.0)) for one in found]


def printed(part: Part, paper: str, folder: Path, mirrored: bool = False) -> list[TileSheet]:
    write_template(part, folder / "t.pdf", paper, mirrored)
    return read_template(folder / "t.pdf")


@pytest.fixture(scope="module")
def rim(tmp_path_factory) -> list[TileSheet]:
    """The sheets of A4 of the cover with a rim of holes."""
    return printed(plate(RIM, name="Duct cover"), "A4", tmp_path_factory.mktemp("rim"))


def close(found: Judged, contours: int) -> None:
    assert found.contours == contours
    assert found.worst < BAND, found


def test_sheets_are_as_large_as_the_paper(rim, tmp_path) -> None:
    """Sizes: ISO 216, ASME Y14.1 sheet A; Qt prints whole points, 0.18 mm at most."""
    (lone,) = printed(plate(RIM[1:2]), "letter", tmp_path)
    for sheets, size in ((rim, (210.0, 297.0)), ([lone], (215.9, 279.4))):
        assert all(sorted(sheet.size) == pytest.approx(size, abs=0.18) for sheet in sheets)
    assert lone.name == ""
    assert not lone.marks()


def test_the_sheets_laid_together_are_the_plate(rim) -> None:
    assert [s.name for s in rim] == ["A1", "B1", "A2", "B2"]
    assert all(len(sheet.marks()) == 3 for sheet in rim)
    strokes, punches, gape = laid_together(rim)
    assert gape < 0.01
    close(judged(shapes(RIM), strokes), len(RIM))
    # Every hole has its cross: as far from the middle one as it was drawn.
    middle = min(punches, key=lambda at: sum(math.dist(at, other) for other in punches))
    off = sorted({round(math.dist(middle, at), 2) for at in punches})
    assert off[0] == 0.0
    assert off[-1] == pytest.approx(140.0, abs=0.02)
    places = {(round(x - middle[0], 1), round(y - middle[1], 1)) for x, y in punches}
    assert len(places) == len(RIM) - 1


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_back_side_is_the_plate_turned_over(mirrored: bool, tmp_path) -> None:
    sheets = printed(plate(BRACKET, CORNERS), "A4", tmp_path, mirrored)
    strokes, _, _ = laid_together(sheets)
    close(judged(shapes(BRACKET, CORNERS, -1.0 if mirrored else 1.0), strokes), 4)
    assert judged(shapes(BRACKET, CORNERS, 1.0 if mirrored else -1.0), strokes).worst > 1.0
    assert all(("MIRRORED" in sheet.words) == mirrored for sheet in sheets)


def test_a_part_in_inches_is_as_large_as_it_says(tmp_path) -> None:
    circles = [(0.0, 0.0, 3.5), (1.0, 0.5, 0.25)]
    strokes, _, _ = laid_together(printed(plate(circles, unit="in"), "auto", tmp_path))
    close(judged(shapes(circles, factor=25.4), strokes), 2)


def test_bars_on_every_sheet_are_true_both_ways(rim) -> None:
    """The inch is 25.4 mm exactly (ISO 80000-3, from memory)."""
    for sheet in rim:
        bars = sheet.bars()
        assert sorted(bars) == ["level in", "level mm", "upright in", "upright mm"]
        for name, ticks in bars.items():
            step, count = (10.0, 10) if name.endswith("mm") else (25.4, 4)
            assert ticks == pytest.approx([k * step for k in range(count + 1)], abs=0.05)


def test_a_sheet_says_what_is_to_be_read(rim) -> None:
    for sheet in rim:
        for words in ("Duct cover", "1:1", "millimetres", "100 %", "100 mm", "4 in", sheet.name):
            assert words in sheet.words, (sheet.name, words)
        assert sheet.covered() == []
    said = "\n".join(sheet.words for sheet in rim)
    assert all(f"C{k} Ø12" in said or f"B{k} Ø12" in said for k in range(1, 13))


def test_empty_sheets_are_left_out_and_the_others_still_lie_along_each_other(tmp_path) -> None:
    """A plate of 650 by 700 with a hole in the middle, far from all edges."""
    corners = ((0.0, 0.0), (650.0, 0.0), (650.0, 700.0), (0.0, 700.0))
    circles = [(325.0, 350.0, 4.0)]
    sheets = printed(plate(circles, corners), "A4", tmp_path)
    strokes, _, gape = laid_together(sheets)  # finds no place for one that nothing holds
    assert gape < 0.01
    close(judged(shapes(circles, corners), strokes), 2)
    columns, rows = (max(sheet.place[k] for sheet in sheets) + 1 for k in (0, 1))
    assert len(sheets) < columns * rows


def test_the_print_dialog_is_asked_not_to_scale(tmp_path) -> None:
    from pdfminer.pdftypes import resolve1

    write_template(plate(BRACKET, CORNERS), tmp_path / "t.pdf")
    with pdfplumber.open(BytesIO((tmp_path / "t.pdf").read_bytes())) as read:
        wanted = resolve1(read.doc.catalog["ViewerPreferences"])
    assert wanted["PrintScaling"].name == "None"


def test_holes_too_dense_for_letters_are_counted(tmp_path) -> None:
    circles = [(2.0 * i, 2.0 * j, 0.5) for i in range(5) for j in range(5)]
    made = template(plate(circles, ((-9.0, -9.0), (30.0, -9.0), (30.0, 30.0), (-9.0, 30.0))))
    assert made.unlettered == 25
    said = read_template(_written(made, tmp_path))[0].words
    assert "25 without room for a letter" in said


def _written(made, folder: Path) -> Path:
    from sketcher.exchange.pdf import write_pdf

    write_pdf(made.pages, folder / "d.pdf")
    return folder / "d.pdf"
