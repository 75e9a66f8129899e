"""The lettering of an SVG sheet by a reader that knows XML alone: outlines, not a font.

Each letter's box is that of the font file itself (glyf table, read by fontTools), placed as the
document says; together they fill the width that the layout reckoned with.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import font_source_sans_pro
import pytest
from fontTools.ttLib import TTFont

from sketcher.drafting.page import Page
from sketcher.drafting.primitives import Text
from sketcher.exchange.svg import svg_text

SVG = "{http://www.w3.org/2000/svg}"
LINK = "{http://www.w3.org/1999/xlink}href"
CAP = 0.66  # of the em: Source Sans Pro's capitals (OS/2 table, sCapHeight)


def sheet(*texts: Text) -> ET.Element:
    return ET.fromstring(svg_text(Page("drawing", (100.0, 50.0), "ISO", texts)))


def letters(root: ET.Element) -> list[tuple[ET.Element, list[ET.Element]]]:
    return [(group, group.findall(f"{SVG}use")) for group in root.iter(f"{SVG}g")
            if group.get("aria-hidden")]


def test_words_are_outlines_with_the_text_unseen_over_them() -> None:
    root = sheet(Text("2x Ø8 ±0.1", (10.0, 20.0), 3.5, "dimension:b1"))
    outlines = {f"#{p.get('id')}" for p in root.iter(f"{SVG}path") if p.get("id")}
    (_, uses), = letters(root)
    assert [u.get(LINK) for u in uses] == [f"#g{ord(c):x}" for c in "2x Ø8 ±0.1"]
    assert {u.get(LINK) for u in uses} == outlines
    words = root.find(f".//{SVG}text")
    assert words.text == "2x Ø8 ±0.1"
    assert words.get("fill-opacity") == "0"


@pytest.mark.parametrize(("anchor", "share"), [("left", 0.0), ("center", -0.5), ("right", -1.0)])
def test_letters_stand_where_the_layout_has_them(anchor: str, share: float) -> None:
    text = Text("120", (40.0, 20.0), 3.5, "dimension:b1", anchor)
    (group, uses), = letters(sheet(text))
    numbers = [float(v) for v in re.findall(r"-?[\d.]+", group.get("transform"))]
    (x, y), start, scale = numbers[:2], numbers[2], numbers[4]
    assert (x, y) == (40.0, 30.0)
    face = TTFont(font_source_sans_pro.font_files_ttf["SourceSansPro"])
    advances = [face["hmtx"][face.getBestCmap()[ord(c)]][0] for c in "120"]
    places = [float(u.get("x")) for u in uses]
    assert places == [0.0, advances[0], advances[0] + advances[1]]
    assert scale * face["OS/2"].sCapHeight == pytest.approx(3.5, abs=1e-3)
    assert start == pytest.approx(share * text.width, abs=1e-3)
    assert scale * sum(advances) == pytest.approx(text.width, abs=1e-3)


def test_a_letter_that_the_font_lacks_leaves_the_line_to_the_viewer() -> None:
    root = sheet(Text("Ångström 木", (10.0, 20.0), 3.5, "sheet:title"))
    assert not letters(root)
    assert root.find(f".//{SVG}text").get("fill-opacity") is None
