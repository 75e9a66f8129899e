"""The sheet as DXF, read by readers that this project did not make: ezdxf's own and GDAL's.

What a DIMENSION says is composed by ezdxf's renderer from what the entity measures; fractions,
which it does not know, by the rule of DIMLUNIT 5 written out here (DXF Reference, from memory).
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from pathlib import Path

import ezdxf
import pyogrio
import pytest
import shapely
from ezdxf.math import UCS
from ezdxf.tools.text import plain_text

from sketcher.drafting.page import Page
from sketcher.drafting.sheet import pages
from sketcher.exchange.dxf_sheet import write_dxf_sheet
from sketcher.exchange.dxf_wording import dxf_text, spoken
from sketcher.geometry.bounds import bounds_of
from sketcher.part import store
from sketcher.part.value import Part
from sketcher.part.whole import whole
from sketcher.solve import solve
from tests.demo_parts import SOUND

MM = {"mm": 1.0, "in": 25.4}


@cache
def demo_page(path: Path) -> tuple[Part, Page]:
    """A demo part and its drawing page, composed once for all tests."""
    part = solve(store.load(path)).part
    return part, pages(part)[0]


@pytest.fixture(params=SOUND, ids=lambda path: path.stem)
def sheet(request: pytest.FixtureRequest, tmp_path: Path):
    """A demo part, its drawing page, and the file written from it."""
    part, page = demo_page(request.param)
    write_dxf_sheet(page, tmp_path / "sheet.dxf")
    return part, page, tmp_path / "sheet.dxf"


def test_what_is_around_the_view_has_layers_of_its_own(sheet) -> None:
    part, _, path = sheet
    meta, _, geometry, fields = pyogrio.raw.read(path)
    layers = fields[list(meta["fields"]).index("Layer")]
    boxes = [shapely.from_wkb(g).bounds for g, layer in zip(geometry, layers, strict=True)
             if layer == "VISIBLE"]
    found = (min(b[0] for b in boxes), min(b[1] for b in boxes),
             max(b[2] for b in boxes), max(b[3] for b in boxes))
    wanted = bounds_of(p.curve for p in whole(part) if p.role == "outline")
    # GDAL reads arcs as chords of 4 degrees: off by at most 6.1e-4 of the radius.
    assert found == pytest.approx(wanted, abs=7e-4 * max(map(abs, wanted)))
    assert {"FRAME", "TITLE", "NOTES", "VISIBLE", "CENTER"} <= set(layers)


def test_extents_are_the_sheets(sheet) -> None:
    _, page, path = sheet
    header = ezdxf.readfile(path).header
    size = [(b - a) * page.view.factor
            for a, b in zip(header["$EXTMIN"], header["$EXTMAX"], strict=True)]
    assert size[:2] == pytest.approx(page.size, abs=1e-9)


def test_lettering_is_read_as_it_stands_by_gdal(sheet) -> None:
    _, page, path = sheet
    assert path.read_bytes().isascii()
    meta, _, _, fields = pyogrio.raw.read(path)
    texts = {t.replace("\N{DIAMETER SIGN}", "Ø")
             for t in fields[list(meta["fields"]).index("Text")] if t}
    for drawn in page.dimensions:
        for item in drawn.items:
            if hasattr(item, "text"):
                assert plain(item.text) in texts


def test_dimensions_say_what_they_measure(sheet, tmp_path: Path) -> None:
    _, page, path = sheet
    document = ezdxf.readfile(path)
    entities = document.modelspace().query("DIMENSION")
    dimensions = [d for d in page.dimensions if d.form != "label"]
    assert len(entities) == len(dimensions)
    for entity, drawn in zip(entities, dimensions, strict=True):
        if drawn.text.endswith("R"):  # full round ends: no number of their own
            assert entity.dxf.text == plain(drawn.text)
            continue
        assert "<>" in entity.dxf.text, f"{drawn.text} is fixed text"
        assert composed(entity) == plain(drawn.text)


def plain(text: str) -> str:
    """Lettering without the signs that DXF has no code for."""
    return text.replace("×", "x").replace("′", "'")


def composed(entity) -> str:
    """The wording as a reader composes it from what the entity measures."""
    style = entity.override()
    if style.get("dimlunit") == 5 and entity.dimtype not in (2, 5):
        sign = {3: "Ø", 4: "R"}.get(entity.dimtype, "")
        number = sign + fraction(entity.get_measurement(), style.get("dimdec"))
        said = entity.dxf.text.replace("<>", number)
    else:
        said = style.get_renderer(UCS()).measurement.text
        assert said, entity.dxf.text
    return plain_text(said)


def fraction(value: float, power: int) -> str:
    """DIMLUNIT 5: to the nearest 1 / 2**DIMDEC, in lowest terms, the whole number in front."""
    nearest = Fraction(round(value * 2**power), 2**power)
    whole_number, rest = divmod(nearest, 1)
    if not rest:
        return str(whole_number)
    return f"{whole_number} {rest}" if whole_number else str(rest)


def test_same_drawing_same_bytes(sheet, tmp_path: Path) -> None:
    part, _, path = sheet
    write_dxf_sheet(pages(part)[0], tmp_path / "again.dxf")
    assert (tmp_path / "again.dxf").read_bytes() == path.read_bytes()


@pytest.mark.parametrize(("text", "form", "measured", "wanted"), [
    ("2x R4", "radius", 4.0, "2x <>"),
    ("10x Ø10", "diameter", 10.0, "10x <>"),
    ("3x 20 (60)", "linear", 60.0, "3x 20 (<>)"),
    ("3x 20 (60)", "linear", 20.0, "3x <> (60)"),
    ("4 ±4", "linear", 4.0, "<> %%p4"),
    (".50", "linear", 0.5, "<>"),
    ("2 9/32", "linear", 2.28125, "<>"),
    ("19°40′", "angle", 19.6667, "<>"),
])
def test_the_number_is_left_to_the_reader(text, form, measured, wanted) -> None:
    assert spoken(text, form, measured).text == wanted


@pytest.mark.parametrize(("text", "form", "measured"), [
    ("62", "linear", 60.0), ("2x 8", "linear", 2.0), ("1/3", "linear", 1 / 3),
    ("12", "angle", 12.0), ("R4", "diameter", 4.0), ("19°40′", "angle", 19.7),
])
def test_what_is_not_measured_stays_text(text, form, measured) -> None:
    assert spoken(text, form, measured) is None


def test_text_in_codes() -> None:
    assert dxf_text("4x Ø8 ±0.1°") == "4x %%c8 %%p0.1%%d"
    assert dxf_text("19°40′") == "19%%d40'"
    assert dxf_text("木 100%%") == "\\U+6728 100%%%%%%"


def test_a_page_without_a_view_is_refused() -> None:
    from sketcher.errors import SketcherError
    from sketcher.exchange.dxf_sheet import dxf_document

    with pytest.raises(SketcherError, match="shows no part"):
        dxf_document(Page("order", (210.0, 297.0), "ISO", ()))
