"""What a PDF says about itself, by readers that this project did not make: PDFium and pdfminer."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pdfplumber
import pypdfium2
import pytest

from sketcher.drafting.sheet import pages
from sketcher.exchange.pdf import pdf_bytes
from sketcher.exchange.pdf_bookmarks import with_bookmarks
from sketcher.part import store
from sketcher.shipped import shipped
from sketcher.solve import solve


@pytest.fixture(scope="module")
def strap() -> tuple[list[str], bytes]:
    """Titles of the pages of a drawing with record and construction order, and its PDF."""
    part = solve(store.load(shipped("demo_parts", "gate-strap.profile.json"))).part
    drawing = replace(part.drawing, inspection_page=True, order_page=True,
                      fields={"drawn by": "Ü. (Grid) 木"})
    drawn = pages(part.having(drawing=drawing))
    return [page.title for page in drawn], pdf_bytes(drawn)


def test_each_page_has_a_bookmark(strap) -> None:
    titles, document = strap
    assert len(titles) >= 3
    read = pypdfium2.PdfDocument(document)
    found = [(mark.get_title(), mark.get_dest().get_index()) for mark in read.get_toc()]
    assert found == [(title, number) for number, title in enumerate(titles)]
    with pdfplumber.open(BytesIO(document)) as other:
        assert [entry[1] for entry in other.doc.get_outlines()] == titles
        assert len(other.pages) == len(titles)


def test_it_names_title_author_and_program(strap) -> None:
    titles, document = strap
    said = pypdfium2.PdfDocument(document).get_metadata_dict()
    assert said["Title"] == titles[0]
    assert said["Author"] == "Ü. (Grid) 木"
    assert said["Creator"] == "part-profile-sketcher"


def test_fonts_are_embedded(strap) -> None:
    from pdfminer.pdftypes import resolve1

    _, document = strap
    with pdfplumber.open(BytesIO(document)) as read:
        for page in read.pages:
            fonts = resolve1(page.page_obj.resources["Font"])
            assert fonts
            for font in map(resolve1, fonts.values()):
                inner = resolve1(resolve1(font["DescendantFonts"])[0])
                assert "FontFile2" in resolve1(inner["FontDescriptor"])


@pytest.mark.parametrize("document", [b"", b"%PDF-1.7 no table of objects", b"\x00" * 300])
def test_a_document_of_another_build_stays_as_it_is(document: bytes) -> None:
    assert with_bookmarks(document, ["one"]) == document


def test_a_wrong_count_of_pages_adds_nothing(strap) -> None:
    titles, document = strap
    bare = document[:document.index(b"%%EOF") + 6]
    assert with_bookmarks(bare, titles) == document
    assert with_bookmarks(bare, titles[:1]) == bare


def test_every_letter_can_be_found(strap) -> None:
    """No two letters are drawn as one sign, which readers have no name for."""
    part = solve(store.load(shipped("demo_parts", "gate-strap.profile.json"))).part
    drawn = pages(part.having(name="Shift off fifty"))
    with pdfplumber.open(BytesIO(pdf_bytes(drawn))) as read:
        letters = "".join(char["text"] for char in read.pages[0].chars)
    assert "Shiftofffifty" in "".join(letters.split())


def test_bold_lettering_has_the_bold_face(strap) -> None:
    """The title of the block is bold, its labels are not: by the names of the embedded fonts."""
    _, document = strap
    with pdfplumber.open(BytesIO(document)) as read:
        faces = {char["fontname"].partition("+")[2] or char["fontname"]
                 for char in read.pages[0].chars}
    assert faces == {"SourceSansPro-Regular", "SourceSansPro-Semibold"}
