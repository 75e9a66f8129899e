"""The axes of the table of holes follow what they name."""

from __future__ import annotations

from sketcher.part.edits.draft import Draft
from sketcher.part.edits.rename import rename
from sketcher.part.value import Drawing, Part
from tests.plates import plate, rectangle


def named(zero: str, along: str = "level") -> Part:
    """A rectangle whose table is measured from what is named."""
    points, lines = rectangle(40.0, 20.0)
    return plate({**points, "c": (10.0, 10.0)}, {**lines, "h": ("c", 3.0)},
                 drawing=Drawing(table_zero=zero, table_along=along))


def test_a_new_name_is_taken_over() -> None:
    assert rename(named("p1"), "p1", "corner").part.drawing.table_zero == "corner"
    drawing = rename(named("pe1', pe4", "pe1"), "pe1", "foot").part.drawing
    assert (drawing.table_zero, drawing.table_along) == ("foot',pe4", "foot")
    untouched = named("pe2, pe4")
    assert rename(untouched, "pe1", "foot").part.drawing is untouched.drawing


def test_what_is_gone_is_named_no_longer() -> None:
    draft = Draft(named("h'", "pe1"))
    draft.remove("h")
    drawing = draft.done().drawing
    assert (drawing.table_zero, drawing.table_along) == ("auto", "pe1")
