"""Doubts: said and unsaid by edits, kept in files, carried through what changes the part."""

from __future__ import annotations

import json

import pytest

from sketcher.errors import EditError, FileError
from sketcher.part.edits import EDITS
from sketcher.part.file_text import read, write
from sketcher.part.kinds import settle_sides
from sketcher.part.value import Doubt, Part, frozen
from tests.rough import HOLE, holed_plate


def doubted() -> Part:
    part = settle_sides(holed_plate(0.4))
    other = "left" if part.bindings[HOLE].side == "right" else "right"
    return part.having(doubts=(
        Doubt(frozen({HOLE: other}), frozen({"k1": (30.0, 25.0)}), frozen({"h1": 4.0})),
        Doubt(frozen({HOLE: other, "b13": "below"})),
    ))


def test_a_file_keeps_doubts() -> None:
    part = doubted()
    assert read(write(part)) == part
    assert json.loads(write(part))["doubts"][0]["points"] == {"k1": [30, 25]}
    assert "doubts" not in write(part.having(doubts=()))


@pytest.mark.parametrize(("doubt", "place"), [
    ({"sides": {"zz": "left"}}, "doubts[0].sides.zz"),
    ({"sides": {HOLE: "north"}}, f"doubts[0].sides.{HOLE}"),
    ({"sides": {}}, "doubts[0].sides"),
    ({}, "doubts[0].sides"),
    ({"sides": {"b1": "left"}}, "doubts[0].sides.b1"),
    ({"sides": {HOLE: "left"}, "points": {"zz": [0, 0]}}, "doubts[0].points.zz"),
    ({"sides": {HOLE: "left"}, "radii": {"e1": 4}}, "doubts[0].radii.e1"),
    ({"sides": {HOLE: "left"}, "radii": {"h1": 0}}, "doubts[0].radii.h1"),
    ({"sides": {HOLE: "left"}, "more": 1}, "doubts[0].more"),
])
def test_a_file_with_a_bad_doubt_is_refused_at_its_place(doubt: object, place: str) -> None:
    tree = json.loads(write(doubted()))
    tree["doubts"] = [doubt]
    with pytest.raises(FileError) as caught:
        read(json.dumps(tree))
    assert caught.value.place == place


def test_confirming_ends_every_doubt_about_a_binding_and_changes_nothing_else() -> None:
    part = doubted()
    edited = EDITS["confirm_side"](part, "b13")
    assert edited.part.doubts == part.doubts[:1]
    done = EDITS["confirm_side"](part, HOLE).part
    assert done.doubts == ()
    assert (done.bindings, done.points) == (part.bindings, part.points)
    for name in ("b13", "b1", "zz"):
        with pytest.raises(EditError):
            EDITS["confirm_side"](done, name)


def test_the_other_side_is_taken_with_its_geometry() -> None:
    part = doubted()
    other = part.doubts[0].sides[HOLE]
    turned = EDITS["turn_side"](part, HOLE).part
    assert turned.bindings[HOLE].side == other
    assert turned.points["k1"] == (30.0, 25.0)
    assert turned.curves["h1"].radius == 4.0
    # What is left of the doubt about both is that about the other one.
    assert [dict(doubt.sides) for doubt in turned.doubts] == [{"b13": "below"}]
    assert EDITS["turn_side"](turned, "b13").part.doubts == ()


def test_a_side_without_a_doubt_is_turned_where_there_is_one_other() -> None:
    part = doubted().having(doubts=())
    turned = EDITS["turn_side"](part, HOLE).part
    assert {turned.bindings[HOLE].side, part.bindings[HOLE].side} == {"left", "right"}
    assert turned.points == part.points
    for name in ("b1", "b14", "zz"):
        with pytest.raises(EditError):
            EDITS["turn_side"](part, name)


def test_a_chosen_side_leaves_no_doubt() -> None:
    part = doubted()
    for side in ("left", "right"):
        assert EDITS["set_side"](part, HOLE, side).part.doubts == ()


def test_doubts_follow_a_rename_and_end_with_their_bindings() -> None:
    part = doubted()
    named = EDITS["rename"](part, HOLE, "beside").part
    assert set(named.doubts[0].sides) == {"beside"}
    named = EDITS["rename"](part, "k1", "drilled").part
    assert set(named.doubts[0].points) == {"drilled"}
    assert read(write(named)) == named
    assert EDITS["remove_binding"](part, "b13").part.doubts == part.doubts[:1]
    gone = EDITS["delete"](part, "h1").part
    assert gone.doubts == ()
    assert EDITS["set_value"](part, HOLE, "11").part.doubts == part.doubts
