"""What is known, told and ready to be drawn while a construction is put together."""

from __future__ import annotations

import pytest

from sketcher.lesson.known import Known, carrier_of, entity_of
from sketcher.lesson.relations import Relation
from sketcher.part.kinds import KINDS
from sketcher.part.value import ArcCurve, CircleCurve
from tests.specimens import frame


def known() -> Known:
    return Known(frame(
        {"a": (0.0, 0.0), "b": (5.0, 0.0), "m": (9.0, 0.0), "c": (5.0, 4.0)},
        [("a", "b"), CircleCurve("m", 2.0), ArcCurve(("b", "m"), "c")]))


def test_unknowns_belong_to_points_lines_and_rounds() -> None:
    assert [entity_of(slot) for slot in (("a", "x"), ("a", "y"), ("e1", "turn"), ("e1", "place"),
                                         ("e2", "r"))] == [
        ("point", "a"), ("point", "a"), ("line", "e1"), ("line", "e1"), ("round", "e2")]
    curves = known().part.curves
    assert [carrier_of(name, curve) for name, curve in curves.items()] == [
        ("line", "e1"), ("round", "e2"), ("round", "e3")]


def test_a_thing_is_whole_when_all_of_it_is_known() -> None:
    state = known()
    assert state.note_known([("a", "x"), ("e1", "turn"), ("a", "y")]) == [
        ("point", "a"), ("line", "e1")]
    assert state.whole(("point", "a"))
    assert not state.whole(("line", "e1"))
    assert not state.whole(("round", "e2"))
    assert state.note_known(iter([("e2", "r"), ("e1", "place")])) == [
        ("round", "e2"), ("line", "e1")]
    assert state.whole(("line", "e1"))
    assert state.whole(("round", "e2"))
    assert not state.whole(("point", "b"))


def test_a_curve_is_drawn_once_with_its_last_piece() -> None:
    state = known()
    state.note_told(("point", "a"), ("point", "b"))
    assert state.ready_curves() == []
    state.note_known([("e1", "turn"), ("e1", "place")])
    assert state.ready_curves() == []  # a line has to be told as well
    state.note_told(("line", "e1"))
    assert state.ready_curves() == ["e1"]
    assert state.ready_curves() == []
    state.note_told(("point", "m"), ("point", "c"))
    assert state.ready_curves() == []
    state.note_known([("e3", "r"), ("e2", "r")])  # an opening of the compass needs no telling
    assert state.ready_curves() == ["e2", "e3"]
    state.note_told(("point", "m"))
    assert state.ready_curves() == []
    assert state.drawn == {"e1", "e2", "e3"}


@pytest.mark.parametrize(("terms", "owner", "speaks"), [
    ({("a", "x"): 1.0, ("b", "x"): -1.0}, "b1", True),
    ({("a", "x"): 1.0, ("b", "x"): -1.0}, "", False),
    ({("m", "x"): 1.0, ("b", "x"): -1.0}, "b1", False),
    ({("e2", "r"): 1.0, ("b", "y"): -1.0}, "b1", True),
    ({("e1", "place"): 1.0, ("b", "y"): -1.0}, "b1", False),
])
def test_a_condition_may_speak_of_what_is_told_and_of_one_point(
    terms: dict, owner: str, speaks: bool
) -> None:
    state = known()
    state.note_told(("point", "a"))
    assert state.speaks_of_told(Relation(terms, KINDS["run"], owner), "b") is speaks


def test_a_plumb_line_may_take_the_locus_of_its_end() -> None:
    state = known()
    state.note_told(("point", "a"))
    run = Relation({("a", "x"): -1.0, ("b", "x"): 1.0}, KINDS["run"], "b1", ("a", "b"))
    others = [Relation({("a", "x"): -1.0, ("b", "x"): 1.0}, KINDS["distance"], "b2", ("a", "b")),
              Relation({("m", "x"): -1.0, ("b", "x"): 1.0}, KINDS["run"], "b3", ("m", "b")),
              Relation({("a", "y"): -1.0, ("b", "y"): 1.0}, KINDS["rise"], "b4", ("a", "b")),
              Relation({("a", "x"): -1.0, ("b", "x"): 1.0}, KINDS["run"], "e1", ("a", "b"))]
    state.why["point", "b"] = [run, *others]
    plumb = Relation({("b", "x"): 1.0, ("e1", "place"): -1.0}, None, "e1", ("b",), role="end")
    slanted = Relation({("b", "x"): 0.6, ("b", "y"): 0.8, ("e1", "place"): -1.0}, None, "e1",
                       ("b",), role="end")
    level = Relation({("b", "y"): 1.0, ("e1", "turn"): 1.0}, KINDS["on"], "b9", ("b",))
    parallel = Relation({("e1", "turn"): 1.0}, KINDS["parallel"], "b8", ("b",))
    assert state.loci([plumb]) == [run]
    assert state.loci([slanted]) == []
    assert state.loci([parallel]) == []
    assert state.loci([level, plumb]) == [others[2], run]
    state.note_told(("point", "b"))
    assert state.loci([plumb]) == []
