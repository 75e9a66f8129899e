"""The written form of a part: exact, stable, one entry a line."""

from __future__ import annotations

import json
from dataclasses import fields
from math import inf, nan

import pytest

from sketcher.errors import FileError
from sketcher.part.check import DRAWING
from sketcher.part.edits.draft import Draft
from sketcher.part.file_text import number, read, write
from sketcher.part.value import (
    Drawing,
    GridPattern,
    Mirror,
    Part,
    PolarPattern,
    Unit,
    begun,
    frozen,
)
from tests.refusals import refused


def rich_part() -> Part:
    """One of everything that a file can hold."""
    draft = Draft(Part(name="Träger ½", unit="in", notes=("One.", "Two\nlines.")))
    axis = draft.line((0.1, -0.0), (0.1, 7.3), "axis")
    cross = draft.line((-1e-17, 1 / 3), (5.0, 1 / 3), "axis")
    edge = draft.line((0.1, 0.0), (2.0, 0.0))
    arc = draft.arc((2.0, 0.0), (2.5, 0.5), (2.0, 0.5), "ccw")
    hole = draft.circle((1.0, 1.0), 0.21875, "layout")
    draft.bind("level", [edge])
    draft.bind("radius", [arc], "1/2", drives=False)
    draft.bind("distance", [edge], drives=False)  # one that follows
    draft.bind("run", draft.curves[edge].points, "1 7/8", "right", tolerance=(0.01, -0.0))
    draft.pattern(GridPattern((hole,), ("1 1/2", "1"), (4, 2), "15"))
    draft.pattern(PolarPattern((hole, arc), draft.curves[hole].points[0], 6, "90"))
    draft.set_mirrors([Mirror(axis), Mirror(cross, (edge, arc))])
    drawing = Drawing(
        practice="ASME", overhang=0.125, show_half=True,
        fields=frozen({"drawn by": "N. N."}), placed=frozen({"b3": (1.5, -2.0)}),
        centers=frozen({"h1/level": frozen({"off": True, "start": 0.5, "end": -1.25})}),
    )
    return draft.done().having(parameters={"wall": "8"}, drawing=drawing)


def test_reading_gives_back_what_was_written() -> None:
    part = rich_part()
    assert read(write(part)) == part
    assert repr(read(write(part)).points) == repr(part.points)  # signs of zero too


def test_writing_again_is_byte_identical() -> None:
    text = write(rich_part())
    assert write(read(text)) == text
    assert write(read(text.encode("utf-8"))) == text


def test_one_entry_a_line() -> None:
    lines = write(rich_part()).splitlines()
    assert '  "p1": [0.1, -0.0],' in lines
    assert any(line.startswith('  "e1": {"kind": "line", "ends": ["p5", "p6"]') for line in lines)
    assert all(len(line) < 200 for line in lines)


def test_what_is_default_is_left_out() -> None:
    tree = json.loads(write(Part()))
    assert "mirror" not in tree
    assert "drawing" not in tree
    assert "notes" not in tree
    assert read(write(Part())) == Part()


def test_only_changed_drawing_fields_are_written() -> None:
    tree = json.loads(write(Part(drawing=Drawing(sheet="A3"))))
    assert tree["drawing"] == {"sheet": "A3"}


def test_every_drawing_field_can_be_read() -> None:
    assert set(DRAWING) == {field.name for field in fields(Drawing)}


def test_changing_one_value_changes_one_line() -> None:
    part = rich_part()
    draft = Draft(part)
    draft.change_binding("b2", value="5/8")
    before, after = write(part).splitlines(), write(draft.done()).splitlines()
    assert len(before) == len(after)
    assert sum(a != b for a, b in zip(before, after, strict=True)) == 1


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.0, "0"), (-0.0, "-0.0"), (12.0, "12"), (0.1, "0.1"), (1e22, "1e+22"), (5e-324, "5e-324")],
)
def test_numbers_are_short_and_exact(value: float, text: str) -> None:
    assert number(value) == text
    assert repr(float(json.loads(text))) == repr(value)


@pytest.mark.parametrize("value", [nan, inf, -inf])
def test_what_is_no_number_is_not_written(value: float) -> None:
    with refused("", FileError):
        write(Part(points=frozen({"p1": (value, 0.0)})))


def test_a_byte_order_mark_is_read_over_and_not_written() -> None:
    part = rich_part()
    text = write(part)
    assert read("\ufeff" + text) == read(b"\xef\xbb\xbf" + text.encode()) == part
    assert not write(part).startswith("\ufeff")


@pytest.mark.parametrize(("unit", "millimetres"), [("mm", 1.0), ("in", 25.4)])
def test_a_part_of_which_nothing_is_said_is_thin_plate_in_either_unit(
    unit: Unit, millimetres: float
) -> None:
    entries = {"format": "part-profile", "version": 1, "unit": unit}
    for said in ({}, {"material": {"name": "brass"}}):
        thickness = read(json.dumps(entries | said)).material.thickness
        assert 2.5 <= thickness * millimetres <= 4.0
        assert thickness == Part(unit=unit).material.thickness


def test_a_thickness_stays_written_as_it_was() -> None:
    """A fraction is a text; it is worth what it says, and anything else is refused."""
    entries = {"format": "part-profile", "version": 1, "unit": "in"}
    part = read(json.dumps(entries | {"material": {"thickness": "3/16"}}))
    assert (part.material.thickness, part.material.written) == (0.1875, "3/16")
    assert read(write(part)) == part
    assert '"thickness": "3/16"' in write(part)
    assert read(json.dumps(entries | {"material": {"thickness": 0.1875}})).material.written == ""
    for wrong in ("0", "-1/4", "thin", "1/4 deg"):
        with refused("material.thickness"):
            read(json.dumps(entries | {"material": {"thickness": wrong}}))


def test_a_new_part_in_inches_begins_with_asme_and_an_old_file_stays_as_it_is() -> None:
    assert (begun("in").drawing.practice, begun("mm").drawing.practice) == ("ASME", "ISO")
    assert read(write(begun("in"))) == begun("in")
    old = {"format": "part-profile", "version": 1, "unit": "in"}
    assert read(json.dumps(old)).drawing.practice == "ISO"
