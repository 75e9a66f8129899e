"""How the status line says things: with the kinds' own phrases, and a capital at the beginning."""

from __future__ import annotations

import pytest

from sketcher.board.action_table import perform
from sketcher.board.board import Board
from sketcher.board.ledger.ledger_edits import make, set_cell
from sketcher.board.preview import Pointer
from sketcher.part.edits.draft import Draft
from sketcher.part.edits.scribe_slope import scribe_slope
from sketcher.part.edits.set_parameter import set_parameter
from sketcher.part.value import Part
from tests.hosts import AnsweringHost


def lines() -> Part:
    """e1, e2 apart; p5 beside them; a parameter; a dimension b1 that uses it."""
    draft = Draft(set_parameter(Part(), "wall", "8").part)
    draft.line((0, 0), (40, 0))
    draft.line((50, 20), (90, 30))
    draft.point((20, 10))
    draft.bind("distance", ("e1",), "wall*5")
    return draft.done()


@pytest.mark.parametrize(("ids", "kind", "said"), [
    (("p5", "e1"), "on", "p5 on e1"),
    (("p2", "p5"), "level", "p2 level with p5"),
    (("e2", "e1"), "parallel", "e2 parallel to e1"),
])
def test_a_new_binding_is_said_in_its_own_phrase(
    ids: tuple[str, ...], kind: str, said: str
) -> None:
    board = Board(lines())
    board.bench.select(ids)
    assert make(board.bench, kind) == ""
    assert board.bench.message.text == said


def test_a_new_dimension_is_said_with_its_value() -> None:
    board = Board(lines())
    board.bench.select(("p2", "p3"))
    assert make(board.bench, "distance", "22") == ""
    assert board.bench.message.text == "Distance p2 to p3 is 22"


def test_what_was_said_already_is_named_by_its_phrase() -> None:
    board = Board(lines())
    board.bench.select(("p5", "e1"))
    assert make(board.bench, "on") == ""
    board.bench.select(("p5", "e1"))
    assert "was said already as b2" in make(board.bench, "on")


def test_a_refused_edit_is_told_without_keys_of_the_file() -> None:
    board = Board(lines())
    board.bench.select(("b1",))
    assert not board.bench.do("Wall", lambda part: set_parameter(part, "wall", "0"))
    assert board.bench.message.text == (
        "b1, length of e1: 'wall*5' comes to 0, which is not above zero; "
        "give it as the paper prints it, positive")
    assert set_cell(board.bench, "b1", "value", "-3").startswith("'-3' comes to -3")
    assert not board.bench.do("Wall", lambda part: set_parameter(part, "wall", "1/"))
    assert board.bench.message.text.startswith("Parameter wall: ")


@pytest.mark.parametrize(("text", "said"), [
    ("on of it", "On of it"), ("e1 is bound", "e1 is bound"), ("wall: goes", "wall: goes"),
    ("h7 went", "h7 went"), ("plate.dxf: is there", "plate.dxf: is there"), ("", ""),
    ("Drag p1.", "Drag p1."), ("it stays", "It stays"),
])
def test_a_message_begins_with_a_capital_unless_with_an_id(text: str, said: str) -> None:
    board = Board(lines())
    board.bench.say(text)
    assert board.bench.message.text == said


def test_a_typed_dimension_is_told_and_undone_in_the_same_words() -> None:
    board = Board(lines())
    board.bench.select(("p2", "p3"))
    assert board.typing.hold("distance", "24")
    assert board.bench.message.text == "Distance p2 to p3 is 24."
    assert perform("edit.undo", board, AnsweringHost())
    assert board.bench.message.text == "Undone: Distance p2 to p3 is 24."
    board.bench.select(("p5",))
    assert board.typing.hold("x", "21")
    assert board.bench.message.text == "X of p5 is 21."


def test_what_one_tool_refused_is_not_said_beside_the_next() -> None:
    board = Board(lines())
    board.use("corner")
    board.move(Pointer(20.0, 60.0))
    board.press(Pointer(20.0, 60.0))
    assert "No curve is there" in board.bench.message.text
    board.use("circle")
    assert board.bench.message.text == ""


def test_what_was_done_stays_said_beside_the_next_tool() -> None:
    board = Board(lines())
    board.bench.select(("p5", "e1"))
    assert make(board.bench, "on") == ""
    board.use("circle")
    assert board.bench.message.text == "p5 on e1"


def test_curves_that_meet_nowhere_are_named() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (40, 0))
    draft.line((0, 10), (40, 10))
    board = Board(draft.done())
    board.use("corner")
    board.press(Pointer(20.0, 0.0))
    board.move(Pointer(20.0, 10.0))
    assert [word.text for word in board.preview.words] == ["e1 and e2 do not meet, even extended"]


def test_a_scribed_angle_is_said_in_degrees() -> None:
    draft = Draft(Part())
    p1 = draft.point((0, 0))
    edited = scribe_slope(draft.done(), p1, "30", (10.0, 5.0), extent=("length", "20"))
    assert edited.said == "scribed s1 at 30\N{DEGREE SIGN} to level"


def test_a_lone_point_is_asked_what_it_is_measured_to() -> None:
    board = Board(lines())
    board.use("dimension")
    board.press(Pointer(20.0, 10.0))
    assert board.prompt == "p5: press what it is measured to."
