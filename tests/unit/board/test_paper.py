"""The table of the finished drawing: every field reached, bad entries refused, nothing lost."""

from __future__ import annotations

from dataclasses import fields, replace
from math import dist

import pytest

from sketcher.board.board import Board
from sketcher.board.files.drawing_settings import (
    FIELD,
    paper_table,
    paper_values,
    reset_centers,
    reset_places,
    set_paper,
)
from sketcher.board.preview import Pointer
from sketcher.drafting.sheet import pages
from sketcher.drafting.title_block import FIELDS
from sketcher.errors import SketcherError
from sketcher.part import store
from sketcher.part.file_text import read, write
from sketcher.part.value import Drawing, frozen
from sketcher.shipped import shipped
from sketcher.solve import solve
from tests.hole_plates import plate
from tests.plates import bound
from tests.refusals import refused

BY_HAND = {"fields", "placed", "centers"}


def test_the_table_reaches_every_field_of_the_drawing() -> None:
    names = {s.name for s in paper_table() if not s.name.startswith(FIELD)}
    assert names == {f.name for f in fields(Drawing)} - BY_HAND
    assert {s.name for s in paper_table()} - names == {f"{FIELD}{n}" for n in FIELDS}


def test_values_that_nobody_touched_change_nothing() -> None:
    part = plate(3)
    part = part.having(drawing=replace(part.drawing, overhang=2.123456789, scale="1:2",
                                       fields=frozen({"date": "2031-05-06", "odd": "kept"})))
    assert set_paper(part, paper_values(part)).part == part


def test_every_choice_can_be_kept_in_a_file() -> None:
    part = plate(4)
    for setting in (*paper_table("ISO"), *paper_table("ASME")):
        for value, _ in setting.choices:
            done = set_paper(part, {setting.name: value}).part
            assert read(write(done).encode()) == done
        if setting.kind == "switch":
            for value in (True, False):
                done = set_paper(part, {setting.name: value}).part
                assert getattr(done.drawing, setting.name) is value


def test_lengths_and_title_block_are_read_as_typed() -> None:
    part = plate(5)
    done = set_paper(part, {"overhang": "1/8 in", f"{FIELD}drawn by": " M. Example ",
                            f"{FIELD}date": ""}).part.drawing
    assert done.overhang == pytest.approx(3.175, abs=1e-12)  # 1 in is 25.4 mm (ISO 80000-3)
    assert dict(done.fields) == {"drawn by": "M. Example"}
    assert set_paper(part.having(drawing=done), {"overhang": " "}).part.drawing.overhang is None


@pytest.mark.parametrize(("name", "value"), [
    ("scale", "one to two"), ("scale", "0:1"), ("overhang", "-1"), ("overhang", "wide"),
    ("overhang", "400"), ("tolerance", "ISO 2768-x"), ("tolerance", "about right"),
])
def test_what_cannot_be_read_is_refused_with_a_remedy(name: str, value: str) -> None:
    with pytest.raises(SketcherError) as caught:
        set_paper(plate(6), {name: value})
    assert caught.value.remedy


def test_a_sheet_of_the_other_practice_goes_back_to_fit() -> None:
    part = plate(7, "ISO")
    assert part.drawing.sheet == "A2"
    done = set_paper(part, {"practice": "ASME"}).part.drawing
    assert (done.practice, done.sheet) == ("ASME", "auto")
    both = set_paper(part, {"practice": "ASME", "sheet": "A3"}).part.drawing
    assert both.sheet == "auto"
    kept = set_paper(part, {"practice": "ASME", "sheet": "C"}).part.drawing
    assert kept.sheet == "C"


def test_what_was_done_by_hand_can_be_reset() -> None:
    part = plate(8)
    changed = part.having(drawing=replace(
        part.drawing, centers=frozen({"h1/level": frozen({"off": True})}),
        placed=frozen({"b1": (1.0, 2.0)})))
    assert reset_places(reset_centers(changed).part).part == part
    for reset in (reset_centers, reset_places):
        with pytest.raises(SketcherError):
            reset(part)


@pytest.mark.parametrize("name", ["b19", "b20", "b10"])
def test_a_text_dragged_on_the_desk_stands_there_on_the_sheet(name: str) -> None:
    """A length keeps its row, a leader its place, an angle the radius of its arc."""
    part = solve(store.load(shipped("demo_parts", "gate-strap.profile.json"))).part
    board = Board(part)
    px = 0.25
    dim = next(d for d in board.bench.derived.dimensions(px) if d.binding == name)
    reach = px * board.bench.settings["reach"]
    (x, y), to = dim.anchor, (dim.anchor[0] + 21.0, dim.anchor[1] + 9.0)
    board.press(Pointer(x, y, reach))
    board.move(Pointer(x + 5.0, y + 5.0, reach))
    board.move(Pointer(*to, reach))
    board.release(Pointer(*to, reach))
    assert board.part.drawing.placed[name] == pytest.approx(to)
    page = pages(board.part)[0]
    drawn = next(d for d in page.dimensions if d.id == name)
    back = page.view.back(drawn.place)
    if name == "b19":
        assert back == pytest.approx(to, abs=3.0)
    elif name == "b20":
        assert back[1] == pytest.approx(to[1], abs=2.0)
        assert abs(back[0] - to[0]) < 10.0  # lettering stands beside its knee
    else:
        vertex = page.view.back(drawn.points[0])
        assert dist(vertex, back) == pytest.approx(dist(vertex, to), abs=3.0)


def test_details_are_set_in_one_line_of_words() -> None:
    part = bound()
    read = set_paper(part, {"details": "pe2 10:1 left; pe1 off"}).part
    assert {k: dict(v) for k, v in read.drawing.details.items()} == {
        "pe2": {"scale": "10:1", "side": "left"}, "pe1": {"off": True}}
    assert paper_values(read)["details"] == "pe2 10:1 left; pe1 off"
    assert dict(set_paper(read, {"details": ""}).part.drawing.details) == {}


@pytest.mark.parametrize("text", ["x9 off", "pe2", "pe2 sideways", "pe2 0:1"])
def test_a_line_about_details_that_says_nothing_is_refused(text: str) -> None:
    with refused("drawing.details"):
        set_paper(bound(), {"details": text})
