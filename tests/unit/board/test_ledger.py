"""The ledger: rows, filters, edits in place, new bindings, mending."""

from __future__ import annotations

import re

import pytest

from sketcher.board.board import Board
from sketcher.board.ledger.doubt_question import other_part
from sketcher.board.ledger.ledger_edits import (
    add_parameter,
    drop,
    drop_parameter,
    fitting_kinds,
    make,
    read_tolerance,
    reorder,
    set_cell,
    set_parameter_cell,
)
from sketcher.board.ledger.ledger_rows import (
    filtered,
    find,
    in_words,
    ledger_rows,
    ordered,
    parameter_rows,
)
from sketcher.board.mending.clash_mending import offers, partners, take
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from tests.every_kind import SPECIMENS, bare
from tests.refusals import refused
from tests.rough import HOLE, holed_plate


def frame() -> Part:
    """A rectangle of 40 by 25 with a hole; its run is said by a parameter."""
    draft = Draft(Part(parameters={"wide": "40", "deep": "wide/2 + 5"}))
    p, q, r, s = (draft.point(at) for at in ((0, 0), (40, 0), (40, 25), (0, 25)))
    for ends, kind in (((p, q), "level"), ((q, r), "plumb"), ((r, s), "level"), ((s, p), "plumb")):
        draft.bind(kind, (draft.line(*ends),))
    draft.bind("fixed", (p,))
    draft.bind("run", (p, q), "wide")
    draft.bind("rise", (q, r), "deep", tolerance=(0.1, -0.2))
    draft.circle((12, 9), 3.0)
    draft.bind("diameter", ("h1",), "6", drives=False)
    return draft.done()


def row(board: Board, name: str):
    return next(each for each in ledger_rows(board.bench) if each.id == name)


def test_a_row_tells_everything_about_a_binding() -> None:
    board = Board(frame())
    run = row(board, "b6")
    assert (run.kind, run.value, run.of) == ("run", "wide", "point p1, point p2")
    assert run.wanted == pytest.approx(40.0)
    assert (run.actual_text, run.residual_text, run.state) == ("40", "0", "ok")
    assert row(board, "b7").tolerance == "+0.1 -0.2"
    hole = row(board, "b8")
    assert not hole.drives
    assert hole.of == "circle h1"
    assert row(board, "b1").quantity is None
    assert [each.id for each in ledger_rows(board.bench)] == list(board.part.bindings)


def test_a_reference_dimension_that_is_wrong_is_off() -> None:
    board = Board(frame())
    assert set_cell(board.bench, "b8", "value", "7") == ""
    hole = row(board, "b8")
    assert hole.state == "off"
    assert hole.residual == pytest.approx(-1.0)
    assert hole.residual_text == "-1"


@pytest.mark.parametrize("text", ["", "drawn"])
def test_a_reference_without_a_value_says_what_it_measures(text: str) -> None:
    board = Board(frame())
    set_cell(board.bench, "b8", "value", "7")
    assert set_cell(board.bench, "b8", "value", text) == ""
    hole = row(board, "b8")
    assert (hole.value, hole.actual_text, hole.residual_text, hole.state) == (
        "drawn", "6", "0", "ok")
    board.bench.undo()
    assert row(board, "b8").value == "7"
    assert "needs a value" in set_cell(board.bench, "b7", "value", "")


def test_filter_sort_and_find() -> None:
    board = Board(frame())
    rows = ledger_rows(board.bench)
    assert [r.id for r in filtered(rows, "plumb")] == ["b2", "b4"]
    assert [r.id for r in filtered(rows, "p2 run")] == ["b6"]
    assert [r.id for r in filtered(rows, only="dimensions")] == ["b6", "b7", "b8"]
    assert [r.id for r in filtered(rows, only="references")] == ["b8"]
    assert [r.id for r in filtered(rows, only="level")] == ["b1", "b3"]
    assert filtered(rows, only="trouble") == ()
    by_size = ordered(filtered(rows, only="dimensions"), "actual", descending=True)
    assert [r.id for r in by_size] == ["b6", "b7", "b8"]
    assert [r.id for r in ordered(rows, "id")][:3] == ["b1", "b2", "b3"]
    assert find(rows, ("h1",)) == ("b8",)


@pytest.mark.parametrize(("field", "text", "said"), [
    ("value", "4 +", ""), ("value", "nowhere", "nowhere"), ("value", "", "value"),
    ("value", "30 deg", ""), ("tolerance", "wide??", ""), ("drives", "maybe", "drives"),
    ("id", "b1", "taken"), ("kind", "rise", "cannot be changed"),
])
def test_wrong_input_says_why_and_changes_nothing(field: str, text: str, said: str) -> None:
    board = Board(frame())
    part = board.part
    reason = set_cell(board.bench, "b6", field, text)
    assert reason
    assert said in reason
    assert board.part is part
    assert not board.bench.history.can_undo


def test_cells_are_changed_in_place() -> None:
    board = Board(frame())
    assert set_cell(board.bench, "b6", "value", "2*wide") == ""
    assert board.part.points["p2"][0] == pytest.approx(80.0, abs=1e-9)
    assert set_cell(board.bench, "b6", "tolerance", "0.05") == ""
    assert row(board, "b6").tolerance == "±0.05"
    assert set_cell(board.bench, "b6", "drives", "reference") == ""
    assert row(board, "b6").drives is False
    assert set_cell(board.bench, "b6", "id", "width") == ""
    assert "width" in board.part.bindings
    assert reorder(board.bench, "width", 0) == ""
    assert next(iter(board.part.bindings)) == "width"
    assert drop(board.bench, "width") == ""
    assert "width" not in board.part.bindings
    for _ in range(6):
        board.bench.undo()
    assert board.part.bindings.keys() == frame().bindings.keys()


@pytest.mark.parametrize(("text", "pair"), [
    ("0.1", (0.1, -0.1)), ("±0.1", (0.1, -0.1)), ("+-0.1", (0.1, -0.1)), ("", None),
    ("+0.1 -0.05", (0.1, -0.05)), ("+0.1/-0.05", (0.1, -0.05)), ("-0.1 -0.3", (-0.1, -0.3)),
    ("+0.2/0", (0.2, 0.0)), ("0 -0.2", (0.0, -0.2)),
])
def test_tolerances_as_they_are_typed(text: str, pair) -> None:
    found = read_tolerance(text, "length", Part())
    assert found == (pytest.approx(pair) if pair else None)


def test_three_deviations_are_refused() -> None:
    with refused("tolerance"):
        read_tolerance("+0.1 -0.1 -0.3", "length", Part())


# Every kind, made from a selection.


def shapes() -> Part:
    draft = Draft(Part())
    draft.line((0, 0), (30, 2))  # e1: p1 p2
    draft.line((5, 12), (32, 18))  # e2: p3 p4
    draft.circle((15, 30), 5.0)  # h1 about p5
    draft.circle((17, 32), 8.0)  # h2
    draft.line((-10, -10), (-12, 50), "axis")  # x1
    return draft.done()


@pytest.mark.parametrize(("kind", "of"), [(s.kind, s.of) for s in SPECIMENS])
def test_each_kind_is_offered_made_and_stands_in_the_ledger(kind: str, of: tuple) -> None:
    board = Board(bare())
    board.bench.select(of)
    offered = {choice.kind: choice for choice in fitting_kinds(board.bench)}
    assert kind in offered
    assert offered[kind].hint
    assert make(board.bench, kind) == ""
    assert board.report.converged
    (made,) = ledger_rows(board.bench)
    assert made.kind == kind
    assert set(made.ids) == set(of)
    assert made.state == "ok"
    assert abs(made.residual or 0.0) < 1e-7
    assert board.bench.selection.ids == (made.id,)


def test_a_kind_that_does_not_fit_is_refused_with_the_reason() -> None:
    board = Board(shapes())
    board.bench.select(("h1",))
    assert "tangent" not in {choice.kind for choice in fitting_kinds(board.bench)}
    assert "select" in make(board.bench, "tangent")
    assert not board.part.bindings


def test_a_value_can_be_given_at_once() -> None:
    board = Board(shapes())
    board.bench.select(("h1",))
    assert make(board.bench, "radius", "7") == ""
    assert board.part.curves["h1"].radius == pytest.approx(7.0, abs=1e-9)
    board.bench.select(("h2",))
    assert make(board.bench, "radius", "seven") != ""


# Trouble and what mends it.


def test_a_clash_names_its_partners_and_offers_that_mend() -> None:
    board = Board(frame())
    board.bench.select(("p1", "p3"))
    make(board.bench, "run", "70")
    clash = next(r for r in ledger_rows(board.bench) if r.state == "clashing")
    assert clash.partners
    assert set(clash.partners) <= set(re.findall(r"\bb\d+\b", clash.reason))
    name = next(reversed(list(board.part.bindings)))
    found = offers(board.bench, name)
    assert found
    assert found[0].label.startswith(f"Make {name}")
    for offer in found:
        trial = Board(board.part)
        assert trial.report.clashes
        assert take(trial.bench, offer)
        assert not trial.report.clashes
    assert take(board.bench, found[0])
    assert not board.part.bindings[name].drives
    assert board.part.bindings[name].follows
    assert row(board, name).value == "drawn"
    assert row(board, name).actual == pytest.approx(40.0)  # the wide side
    assert row(board, name).state == "ok"


def test_what_a_way_would_change_is_told_before_it_is_taken() -> None:
    board = Board(frame())
    board.bench.select(("p1", "p3"))
    make(board.bench, "run", "70")  # the wide side says 40
    name = next(reversed(list(board.part.bindings)))
    (clash,) = board.report.clashes
    found = {offer.label.split(" (")[0]: offer for offer in offers(board.bench, name)}
    assert {f"Drop {each}" for each in clash} <= set(found)
    assert found[f"Drop {name}"].says == "nothing moves; 3 freedoms left"  # the hole's
    assert found[f"Drop {name}"].ghosts == ()
    wide = found["Drop b6"]
    assert "moves 30 mm" in wide.says  # 70 - 40
    assert wide.ghosts
    before = dict(board.part.points)
    take(board.bench, wide)
    moved = max(abs(board.part.points[p][0] - before[p][0]) for p in before)
    assert moved == pytest.approx(30.0, abs=1e-9)
    board.bench.undo()
    assert "b6 then measures 70 mm" in found["Make b6"].says


def test_a_binding_said_twice_is_told_with_what_says_it() -> None:
    board = Board(frame())
    board.bench.select(("p1", "p3"))
    make(board.bench, "run", "wide")
    name = next(reversed(list(board.part.bindings)))
    assert row(board, name).state == "doubled"
    assert set(partners(board.bench, name)) == {"b2", "b6"}
    assert partners(board.bench, "b6") == ()
    labels = [offer.label for offer in offers(board.bench, name)]
    assert len(labels) == 2
    assert "reference" in labels[0]
    assert "Drop" in labels[1]
    take(board.bench, offers(board.bench, name)[1])
    assert not board.report.doubled


# Parameters.


def test_parameters_have_values_and_users() -> None:
    board = Board(frame())
    wide, deep = parameter_rows(board.bench)
    assert (wide.name, wide.text, wide.value) == ("wide", "40", "40")
    assert (deep.value, deep.used_by) == ("25", ("b7",))
    assert set(wide.used_by) == {"deep", "b6"}


def test_parameters_are_edited_or_say_why_not() -> None:
    board = Board(frame())
    assert set_parameter_cell(board.bench, "wide", "text", "60") == ""
    assert board.part.points["p2"][0] == pytest.approx(60.0, abs=1e-9)
    part = board.part
    assert "circle" in set_parameter_cell(board.bench, "wide", "text", "deep + 1")
    assert set_parameter_cell(board.bench, "wide", "name", "2nd") != ""
    assert drop_parameter(board.bench, "wide") != ""
    assert "already" in add_parameter(board.bench, "wide", "3")
    assert board.part is part
    assert add_parameter(board.bench, "gap", "1/8 in") == ""
    assert parameter_rows(board.bench)[2].value == "3.175"
    assert set_parameter_cell(board.bench, "wide", "name", "breadth") == ""
    assert board.part.bindings["b6"].value == "breadth"
    assert drop_parameter(board.bench, "gap") == ""


def test_words_for_what_is_bound() -> None:
    part = shapes()
    assert in_words(part, "x1") == "axis x1"
    assert in_words(part, "p1") == "point p1"
    assert in_words(part, "h1") == "circle h1"


def test_a_side_in_doubt_is_asked_for_with_both_parts() -> None:
    board = Board(holed_plate(0.2))
    assert board.part.doubts
    found = row(board, HOLE)
    assert found.state == "doubtful"
    assert "right" in found.reason
    assert "left" in found.reason
    assert [r.id for r in filtered(ledger_rows(board.bench), only="trouble")] == [HOLE]
    (ghost,) = other_part(board.bench, (HOLE,)).curves
    assert ghost.curve.center == pytest.approx((30.0, 25.0))
    assert other_part(board.bench, ("b1", "h1")).curves == ()
    confirm, take_other = offers(board.bench, HOLE)
    at = board.part.points["k1"]
    assert take(board.bench, confirm)
    assert board.part.doubts == ()
    assert board.part.points["k1"] == at
    assert row(board, HOLE).state == "ok"
    assert board.bench.derived.inspection().sound
    board.bench.undo()
    assert row(board, HOLE).state == "doubtful"
    assert not board.bench.derived.inspection().sound
    assert take(board.bench, take_other)
    assert board.part.points["k1"] == pytest.approx((30.0, 25.0))
    assert board.part.bindings[HOLE].side == "left"
    assert board.bench.derived.inspection().sound


def test_a_doubt_is_told_when_the_part_is_opened() -> None:
    board = Board()
    board.load(holed_plate(0.2))
    assert (board.bench.message.severity, board.bench.message.place) == ("warning", HOLE)
    board = Board()
    board.load(holed_plate(9.0))
    assert board.bench.message.severity != "warning"
