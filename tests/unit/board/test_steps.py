"""Steps: who listens finds all in its new state, and a refused value is told to its field."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from sketcher.board.action_table import perform
from sketcher.board.board import Board
from sketcher.board.ledger import ledger_edits
from sketcher.board.preview import Pointer
from sketcher.board.steps.notices import PART_REASONS, Change
from sketcher.board.steps.solver_cache import default_solver
from sketcher.errors import EditError
from sketcher.part.edits.draft import Draft
from sketcher.part.file_text import read, write
from sketcher.part.store import load
from sketcher.part.value import Part
from sketcher.solve.solve_report import Solution
from tests.hosts import AnsweringHost
from tests.specimens import two_lengths

STRAP = Path(__file__).resolve().parents[3] / "demo_parts" / "gate-strap.profile.json"


class Watcher:
    """Reads what the window reads at every notice, and keeps what it heard."""

    def __init__(self, board: Board) -> None:
        self.board = board
        self.heard: list[Change] = []
        board.bench.notices.listen(self.hear)

    def hear(self, change: Change) -> None:
        board = self.board
        assert change.after is board.part
        assert change.report is board.report
        assert board.prompt
        assert board.preview is not None
        board.typing.rows()
        assert all(n in board.part.points or n in board.part.curves or n in board.part.bindings
                   for n in board.bench.selection.ids)
        self.heard.append(change)

    def reasons(self) -> list[str]:
        return [change.reason for change in self.heard]


def at(x: float, y: float) -> Pointer:
    return Pointer(x, y, 1.0)


def drawn_chain(board: Board) -> None:
    board.use("outline")
    for place in (at(500, 500), at(560, 520)):
        board.press(place)
        board.release(place)
    board.move(at(600, 560))


def chosen_circle(board: Board) -> None:
    board.use("circle")
    board.press(at(500, 500))
    board.press(at(510, 500))
    board.use("pick")
    board.bench.select([list(board.part.curves)[-1]])
    board.use("rows")
    board.move(at(600, 560))


def based_ladder(board: Board) -> None:
    board.use("layout line")
    board.press(at(500, 500))
    board.press(at(560, 520))
    board.use("offset ladder")
    board.press(at(530, 510))
    board.move(at(600, 560))


@pytest.mark.parametrize("begin", [drawn_chain, chosen_circle, based_ladder])
def test_undo_and_redo_inside_a_tool(begin: Callable[[Board], None]) -> None:
    board = Board(load(STRAP))
    watcher = Watcher(board)
    begin(board)
    last = board.part
    while board.bench.undo():
        pass
    while board.bench.redo():
        pass
    assert board.part is last
    assert {"undo", "redo"} <= set(watcher.reasons())


def test_a_piece_taken_back_inside_the_chain() -> None:
    board = Board(load(STRAP))
    first = write(board.part)
    Watcher(board)
    drawn_chain(board)
    board.key("backspace")
    assert write(board.part) == first


def test_another_part_in_the_middle_of_a_chain() -> None:
    board = Board(load(STRAP))
    watcher = Watcher(board)
    drawn_chain(board)
    board.load(Part())
    assert board.tool.name == "pick"
    (told,) = [c for c in watcher.heard if c.reason == "load"]
    assert told.after == Part()


def test_a_drag_given_up_from_outside_lets_the_tool_go_of_it() -> None:
    board = Board(one_line())
    Watcher(board)
    before = board.part
    board.press(at(0, 0))
    board.move(at(4, 9))
    assert board.part is not before
    board.bench.gesture.restore()
    assert board.part is before
    board.move(at(7, 7))  # the button is still down, but nothing hangs on it any more
    assert board.part is before


def test_one_press_is_told_once() -> None:
    board = Board()
    board.use("outline")
    board.press(at(0, 0))
    watcher = Watcher(board)
    board.press(at(40, 0))
    told = [c for c in watcher.heard if c.reason in PART_REASONS]
    assert [c.reason for c in told] == ["edit"]
    assert not told[0].before.curves
    assert len(watcher.reasons()) == len(set(watcher.reasons()))


def one_line() -> Part:
    draft = Draft(Part())
    draft.line((0.0, 0.0), (30.0, 10.0))
    return draft.done()


def test_a_value_beyond_the_sheet_is_refused_in_the_ledger() -> None:
    board = Board(two_lengths())
    one, other = [n for n, b in board.part.bindings.items() if b.value]
    assert ledger_edits.set_cell(board.bench, one, "value", "9e8") == ""
    before, told = board.part, board.bench.message
    why = ledger_edits.set_cell(board.bench, other, "value", "9e8")
    assert why
    assert board.part is before
    assert board.bench.message is told  # the reason belongs into the field, not the status line
    assert read(write(board.part)) == board.part


def test_an_edit_that_its_file_could_not_hold_is_refused() -> None:
    board = Board(two_lengths())
    (name, *_) = [n for n, b in board.part.bindings.items() if b.value]
    before = board.part

    def valued(text: str) -> Callable[[Part], Part]:
        def edit(part: Part) -> Part:
            draft = Draft(part)
            draft.change_binding(name, value=text)
            return draft.done()

        return edit

    for text in ("0", "2*none", "-4", "9e9"):
        outcome = board.bench.do("Set", valued(text))
        assert not outcome
        assert outcome.error is not None
        assert outcome.why == outcome.error.reason
        assert board.bench.message.severity == "error"
    assert board.part is before
    assert not board.bench.history.can_undo


def test_what_is_refused_and_what_changes_nothing_differ() -> None:
    board = Board(one_line())

    def wrong(part: Part) -> Part:
        raise EditError("curves.e9", "no such curve", "choose another")

    refused, idle = board.bench.do("Wrong", wrong), board.bench.do("Nothing", lambda part: part)
    assert not refused
    assert not idle
    assert refused.error is not None
    assert refused.error.place == "e9", "as the window names it, not by the keys of a file"
    assert idle.error is None
    assert idle.why == ""


def test_a_value_refused_in_the_readout_stays_open_with_the_reason() -> None:
    board = Board(two_lengths())
    board.bench.select(["e1"])
    assert board.typing.open_row("length", "9e8")
    board.key("enter")
    assert board.typing.entry is None
    board.bench.select(["e2"])
    before = board.part
    board.typing.open_row("length", "9e8")
    board.key("enter")
    assert board.part is before
    assert board.typing.entry is not None
    assert board.typing.entry.text == "9e8"
    assert board.typing.entry.error


def test_a_ladder_that_is_refused_stays_open_with_the_reason() -> None:
    draft = Draft(Part())
    draft.line((0.0, 5e8), (30.0, 5e8))
    board = Board(draft.done())
    board.use("offset ladder")
    board.press(at(5, 5e8))
    board.move(at(5, 6e8))
    before = board.part
    board.typing.open_row("ladder", "9e8")  # each value can be read; the rung would lie too far out
    board.key("enter")
    assert board.part is before
    assert board.typing.entry is not None
    assert board.typing.entry.error


def test_a_line_whose_extent_is_refused_keeps_its_angle() -> None:
    board = Board()
    board.use("line at angle")
    board.press(at(5e8, 0))
    board.move(at(6e8, 1))
    assert board.typing.hold("angle", "10")
    assert not board.typing.hold("length", "9e8")
    held = {row.name: row.held for row in board.typing.rows()}
    assert held["angle"]
    assert not held["length"]
    assert board.typing.hold("length", "40")
    board.key("enter")
    assert board.part.curves


def test_a_dimension_that_cannot_be_is_refused_while_it_is_typed() -> None:
    board = Board(one_line())
    board.use("dimension")
    board.press(at(15, 5))
    (row,) = board.typing.rows()
    assert row.name == "distance"
    board.typing.open_row("distance", "0")
    board.key("enter")
    assert board.typing.entry is not None
    assert board.typing.entry.error
    assert not board.typing.rows()[0].held
    board.key("escape")
    assert board.typing.hold("distance", "40")
    assert board.typing.rows()[0].held


def test_a_part_that_cannot_be_described_so_is_refused_to_the_form() -> None:
    board = Board(one_line())
    refused: list[EditError] = []

    class Persistent(AnsweringHost):
        """Mends what was refused, as the form lets a person do."""

        def ask_form(self, title, fields, caution="", take=None, **_):  # type: ignore[no-untyped-def]
            values = {name: value for name, _, value in fields} | {"thickness": "0"}
            try:
                take(values)
            except EditError as error:
                refused.append(error)
            take(values | {"thickness": "4"})
            return values

    assert perform("file.describe", board, Persistent())
    assert [error.place for error in refused] == ["material.thickness"]
    assert board.part.material.thickness == 4.0


def test_a_drag_beyond_the_sheet_goes_back() -> None:
    draft = Draft(Part())
    draft.line((0.0, 0.0), (9e8, 1e8))
    board = Board(draft.done())
    Watcher(board)
    before = board.part
    board.press(Pointer(9e8, 1e8, 1e6))
    for x in (9.5e8, 1.1e9):
        board.move(Pointer(x, 1e8, 1e6))
    assert board.part.points["p2"][0] > 1e9
    board.release(Pointer(1.1e9, 1e8, 1e6))
    assert board.part is before
    assert not board.bench.history.can_undo
    assert board.bench.message.severity == "error"


def test_undo_and_redo_tell_again_what_the_solver_said_then() -> None:
    asked: list[Part] = []

    def solver(part: Part) -> Solution:
        asked.append(part)
        return default_solver(part)

    board = Board(two_lengths(), solver=solver)
    reports = []
    for text in ("12", "14", "16"):
        (name, *_) = [n for n, b in board.part.bindings.items() if b.value]
        ledger_edits.set_cell(board.bench, name, "value", text)
        reports.append(board.report)
    count = len(asked)
    board.bench.undo()
    assert board.report is reports[-2]
    board.bench.redo()
    assert board.report is reports[-1]
    assert len(asked) == count
