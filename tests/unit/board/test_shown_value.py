"""What a dimension on the desk reads is what the sheet says, and what is typed into it is meant so.

The whole of a symmetric part is dimensioned across its axis (ASME Y14.5, from memory).
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketcher.board.board import Board
from sketcher.board.dimensions.desk_layout import lay_out_on_desk, lines_of
from sketcher.board.dimensions.shown_value import half_of, set_shown, shown_text, whole_of
from sketcher.board.readout.readout_content import of_dimension
from sketcher.drafting.measured import measured
from sketcher.drafting.paper_view import View
from sketcher.part import store
from sketcher.part.kinds import bind
from sketcher.part.value import Part
from sketcher.quantity.parameters import evaluate_all
from sketcher.quantity.parse import evaluate
from sketcher.shipped import shipped
from sketcher.solve import solve
from sketcher.solve.solve_report import SolveReport
from tests.hands import BoardHands

DEMOS = ("gate-strap", "pump-flange", "roof-gusset", "shelf-bracket", "shift-arm")


def demo(name: str) -> Part:
    return solve(store.load(shipped("demo_parts", f"{name}.profile.json"))).part


def on_desk(part: Part) -> dict[str, str]:
    return {line.binding: line.text for line in lay_out_on_desk(part, SolveReport(), 0.1).lines}


@pytest.mark.parametrize("name", DEMOS)
def test_the_desk_says_what_the_sheet_says(name: str) -> None:
    part = demo(name)
    desk = on_desk(part)
    alone = [m for m in measured(part, View()) if len(m.stands_for or (m.id,)) == 1
             and m.id in part.bindings and "x " not in m.wording.main
             and not m.wording.tail and m.wording.plain != "R"]
    assert len(alone) > 4
    slots = {"b24", "b33"} if name == "shift-arm" else set()  # bound by their ends' radius
    assert {m.id: desk[m.id] for m in alone if m.id not in slots} == {
        m.id: m.wording.plain for m in alone if m.id not in slots}


def test_a_width_is_shown_across_the_axis_and_a_path_and_a_pitch_circle_as_what_they_are() -> None:
    assert on_desk(demo("gate-strap"))["b5"] == "120"
    assert on_desk(demo("shift-arm"))["b32"] == "R52"
    assert on_desk(demo("pump-flange"))["b14"] == "Ø60"


def test_its_lines_run_across_the_axis() -> None:
    (line,) = [each for each in lay_out_on_desk(demo("gate-strap"), SolveReport(), 0.1).lines
               if each.binding == "b5"]
    ends = sorted(extension.start[0] for extension in line.extensions)
    assert ends[0] == pytest.approx(-60.0, abs=1e-6)
    assert ends[-1] == pytest.approx(60.0, abs=1e-6)


@pytest.mark.parametrize(("name", "binding", "shown"), [
    ("gate-strap", "b5", "width"), ("roof-gusset", "b4", "80"), ("pump-flange", "b14",
                                                                  "bolt_circle"),
    ("gate-strap", "b6", "24")])
def test_its_value_is_offered_as_it_is_shown(name: str, binding: str, shown: str) -> None:
    assert shown_text(demo(name), binding) == shown


def test_what_is_typed_into_a_width_is_meant_across() -> None:
    part = demo("roof-gusset")
    assert on_desk(part)["b4"] == "80"
    edited = set_shown(part, "b4", "90").part
    assert edited.bindings["b4"].value == "90/2"
    assert on_desk(solve(edited).part)["b4"] == "90"
    assert set_shown(part, "b4", "80") is part  # nothing was changed
    assert set_shown(part, "b8", "26").part.bindings["b8"].value == "26"  # not across the axis


def test_digits_typed_over_a_selected_width_are_meant_across() -> None:
    board = Board(demo("roof-gusset"))
    hands = BoardHands(board, 1.0)
    board.bench.select(("b4",))
    assert of_dimension(board.bench, "b4").text == "80"
    hands.type("90\n")
    assert board.part.bindings["b4"].value == "90/2"


def test_a_new_dimension_is_shown_as_it_is_typed() -> None:
    part = demo("roof-gusset")
    drawing = replace(part.drawing, placed={"": (50.0, 50.0)})
    new = bind(part, "offset", ("ax", "k1"))
    assert lines_of(part.having(drawing=drawing), new, 0.1).text == "30"


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("text", ["60", "60.5", "120/2", "wall", "wall + 3", "(wall+1)/2", "9/32",
                                  "2 3/4", "1/2", "12,5"])
def test_whole_and_half_undo_each_other(text: str, unit: str) -> None:
    values = evaluate_all({"wall": "7"}, unit)

    def worth(expression: str) -> float:
        return float(evaluate(expression, "length", unit, values))

    assert worth(whole_of(text, unit)) == pytest.approx(2.0 * worth(text))
    assert worth(half_of(whole_of(text, unit))) == pytest.approx(worth(text))
