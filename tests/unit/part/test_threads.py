"""Threads of holes as they are typed, kept and printed."""

from __future__ import annotations

import pytest

from sketcher.drafting.primitives import Text
from sketcher.drafting.sheet import pages
from sketcher.errors import EditError
from sketcher.part.edits.delete import delete
from sketcher.part.edits.rename import rename
from sketcher.part.file_text import check_writable
from sketcher.part.threads import read_thread_words, thread_words
from sketcher.part.value import Binding, Drawing, Part
from sketcher.shop.hole_rows import hole_rows
from tests.plates import plate, rectangle


def tapped(threads: dict[str, str], **drawing: object) -> Part:
    """A plate of 80 by 50 by 6 with three holes of one size."""
    points, lines = rectangle(80.0, 50.0)
    at = {"a": (15.0, 10.0), "b": (65.0, 10.0), "c": (40.0, 40.0)}
    return plate({**points, **at}, {**lines, "h1": ("a", 2.5), "h2": ("b", 2.5), "h3": ("c", 2.5)},
                 Binding("distance", ("pe1",), "80"), Binding("distance", ("pe2",), "50"),
                 Binding("diameter", ("h1",), "5"), Binding("equal", ("h1", "h2")),
                 Binding("equal", ("h1", "h3")), thickness=6.0,
                 drawing=Drawing(threads=threads, **drawing))


# Written forms by ISO 261, ASME B1.1, ISO 228 and ASME B1.20.1 (from memory).
@pytest.mark.parametrize("thread", ["M6", "M6x0.75", "M10 x 1.25-6H", "1/4-20", "1/4-20 UNC-2B",
                                    "#10-32", "10-32 UNF", "1 1/8-7 UNC", ".250-20", "G1/4",
                                    "1/8-27 NPT", "M8 LH"])
def test_the_usual_forms_are_taken(thread: str) -> None:
    found = read_thread_words(tapped({}), f"h1 {thread};")
    assert found == {"h1": thread}
    assert thread_words(tapped(dict(found))) == f"h1 {thread}"


@pytest.mark.parametrize(("text", "said"), [
    ("h9 M6", "no hole named 'h9'"), ("pe1 M6", "no hole named 'pe1'"), ("h1", "'' of h1 is no"),
    ("h1 six", "'six' of h1 is no thread"), ("h1 M6; h1 M8", "h1 has two threads"),
    ("h1 =M6", "is no thread"),
])
def test_what_is_none_is_told(text: str, said: str) -> None:
    with pytest.raises(EditError, match=said):
        read_thread_words(tapped({}), text)


def test_it_is_printed_behind_the_size_and_parts_equal_holes() -> None:
    said = sorted(d.text for d in pages(tapped({"h3": "M6"}))[0].dimensions if "Ø" in d.text)
    assert said == ["2x Ø5", "Ø5 M6"]
    table = pages(tapped({"h3": "M6"}, hole_table=True))[0].items
    texts = [item.text for item in table if isinstance(item, Text) and item.source == "sheet:holes"]
    assert "Ø5 M6" in texts
    assert {row.name: row.size for row in hole_rows(tapped({"h3": "M6"})).rows} == {
        "A1": "Ø5", "A2": "Ø5", "B1": "Ø5 M6"}


def test_holes_that_the_cutter_only_marks_are_called_out_to_be_drilled() -> None:
    """6 mm thick: plasma cuts no hole below 12 mm (common practice, no source), laser from 6 mm."""
    def said(**drawing: object) -> list[str]:
        return sorted(d.text for d in pages(tapped({}, **drawing))[0].dimensions if "Ø" in d.text)

    assert said() == ["3x Ø5"]
    assert said(cut_by="plasma") == ["3x Ø5 drill"]
    assert said(cut_by="plasma", practice="ASME") == ["3X Ø5 DRILL"]


def test_it_goes_with_its_hole() -> None:
    part = tapped({"h1": "M6", "h3": "M8"})
    check_writable(part)
    assert rename(part, "h1", "tapped").part.drawing.threads == {"tapped": "M6", "h3": "M8"}
    assert delete(part, "h1").part.drawing.threads == {"h3": "M8"}
