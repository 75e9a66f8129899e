"""Spacings of patterns: on the sheet, in their table, changed in place."""

from __future__ import annotations

from math import hypot

import pytest

from sketcher.board.ledger.ledger_edits import set_cell
from sketcher.board.ledger.spacing_rows import spacing_rows
from sketcher.board.preview import Pointer
from sketcher.geometry.curves import Line
from sketcher.part.value import PolarPattern
from sketcher.part.whole import whole
from tests.shaped import Hands, wing


def dims(hands: Hands) -> dict[str, str]:
    found = hands.board.bench.derived.dimensions(0.1)
    return {dim.binding: dim.text for dim in found if "." in dim.binding}


def around(span: str, count: int = 3) -> Hands:
    hands = Hands(wing(mirrored=False, repeated=False))
    hands.use("bolt circle", "h1", "p6")
    hands.type(str(count), "places")
    hands.type(span, "span")
    hands.board.key("enter")
    return hands


def test_a_grid_shows_its_steps() -> None:
    hands = Hands(wing())
    assert dims(hands) == {"g1.step1": "8", "g1.step2": "6"}
    found = {d.binding: d for d in hands.board.bench.derived.dimensions(0.1)}
    (line,) = found["g1.step1"].curves
    assert isinstance(line, Line)
    assert line.length == pytest.approx(8)
    assert line.direction == pytest.approx((1, 0))
    # From further away there is no room between: the arrowheads point inward from outside.
    far = next(d for d in hands.board.bench.derived.dimensions(1.0) if d.binding == "g1.step1")
    assert [arrow.tip[0] for arrow in far.arrows] == pytest.approx([30, 38])
    assert far.arrows[0].direction == pytest.approx((1, 0))
    assert not 30 <= far.anchor[0] <= 38  # on either side


def test_several_steps_are_counted_and_summed() -> None:
    hands = Hands(wing())
    assert set_cell(hands.board.bench, "g1.columns", "value", "4") == ""
    text = dims(hands)["g1.step1"]
    assert "3" in text
    assert "8" in text
    assert "(=24)" in text


def test_a_hole_circle_shows_its_number_and_its_angle() -> None:
    found = dims(around("90"))
    assert found.keys() == {"r1.count", "r1.span"}
    assert "3" in found["r1.count"]
    assert "45" in found["r1.span"]
    assert "(=90" in found["r1.span"]
    assert dims(around("360")).keys() == {"r1.count"}


def test_the_instances_follow_what_is_typed() -> None:
    hands = Hands(wing())
    assert set_cell(hands.board.bench, "g1.step1", "value", "width/4") != ""  # no such parameter
    assert set_cell(hands.board.bench, "g1.step1", "value", "2*5.5") == ""
    assert hands.part.patterns["g1"].step == ("2*5.5", "6")  # type: ignore[union-attr]
    centers = {p.id: p.curve.center for p in whole(hands.part)  # type: ignore[union-attr]
               if p.source == "h1"}
    assert hypot(centers["h1#1"][0] - centers["h1"][0], 0) == pytest.approx(11)
    assert dims(hands)["g1.step1"] == "11"
    hands.board.bench.undo()
    assert dims(hands)["g1.step1"] == "8"


def test_the_table_lists_every_number_with_what_it_comes_to() -> None:
    hands = Hands(wing())
    set_cell(hands.board.bench, "g1.step2", "value", "3+4")
    rows = {row.id: row for row in spacing_rows(hands.board.bench)}
    assert list(rows) == ["g1.step1", "g1.step2", "g1.columns", "g1.rows", "g1.angle"]
    assert (rows["g1.step2"].text, rows["g1.step2"].value) == ("3+4", "7")
    assert rows["g1.step1"].curves == ("h1",)
    assert rows["g1.columns"].label == "columns"


@pytest.mark.parametrize(("name", "text", "why"), [
    ("g1.columns", "2.5", "whole number"), ("g1.step1", "8 +", ""), ("g1.rows", "0", "whole"),
])
def test_what_cannot_be_read_is_refused_with_its_reason(name: str, text: str, why: str) -> None:
    hands = Hands(wing())
    before = hands.part
    said = set_cell(hands.board.bench, name, "value", text)
    assert said
    assert why in said
    assert hands.part is before


def test_pressing_a_spacing_selects_what_it_repeats() -> None:
    hands = Hands(wing())
    hands.board.use("pick")
    reach = hands.board.bench.settings["reach"] * 0.1
    dim = next(d for d in hands.board.bench.derived.dimensions(0.1) if d.binding == "g1.step1")
    pointer = Pointer(*dim.anchor, reach)
    hands.board.move(pointer)
    hands.board.press(pointer)
    assert hands.board.bench.selection.ids == ("h1",)
    hands.board.move(Pointer(pointer.x + 5, pointer.y, reach))
    hands.board.release(Pointer(pointer.x + 5, pointer.y, reach))
    assert hands.part.points == wing().points


def test_a_pattern_about_its_own_center_shows_nothing() -> None:
    hands = Hands(wing(mirrored=False, repeated=False))
    center = hands.part.curves["h1"].points[-1]
    pattern = PolarPattern(("h1",), center, 3)
    from sketcher.part.edits.set_pattern import set_pattern

    hands.board.bench.do("Repeat", lambda part: set_pattern(part, pattern))
    assert dims(hands) == {}
