"""The board: edits, history, listeners, gestures, files, entries."""

from __future__ import annotations

from pathlib import Path

import pytest

from sketcher.board.action_table import perform
from sketcher.board.board import Board
from sketcher.board.preview import Pointer
from sketcher.board.steps.notices import Change
from sketcher.errors import EditError
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from sketcher.solve.solve_report import Solution, SolveReport
from tests.hosts import AnsweringHost


def line_edit(part: Part) -> Part:
    draft = Draft(part)
    draft.line((3, 4), (20, 9))
    return draft.done()


def triangle(a: str, b: str, c: str) -> Part:
    """Three sides with the lengths that are said; the longest may be too long to close."""
    draft = Draft(Part())
    p, q, r = (draft.point(at) for at in ((0, 0), (10, 0), (4, 6)))
    for ends, value in (((p, q), a), ((q, r), b), ((r, p), c)):
        draft.bind("distance", (draft.line(*ends),), value)
    draft.bind("fixed", (p,))
    draft.bind("level", ("e1",))
    return draft.done()


def test_an_edit_is_solved_pushed_and_told() -> None:
    board, heard = Board(), []
    board.bench.notices.listen(heard.append)
    before = board.part
    assert board.bench.do("Draw", line_edit)
    change: Change = next(c for c in heard if c.reason == "edit")
    assert change.before is before
    assert change.after is board.part
    assert change.report is board.report
    assert board.report.freedoms == 4
    assert board.bench.history.undo_name == "Draw"
    assert board.bench.is_changed


def test_undo_comes_back_to_the_very_same_part() -> None:
    board = Board()
    first = board.part
    board.bench.do("One", line_edit)
    second = board.part
    board.bench.do("Two", line_edit)
    assert board.bench.undo()
    assert board.part is second
    assert board.bench.undo()
    assert board.part is first
    assert not board.bench.undo()
    assert board.bench.redo()
    assert board.part is second


def test_an_edit_that_fails_is_told_and_changes_nothing() -> None:
    board = Board()
    board.bench.do("One", line_edit)
    part = board.part

    def wrong(part: Part) -> Part:
        raise EditError("curves.e9", "no such curve", "choose another")

    assert not board.bench.do("Wrong", wrong)
    assert board.part is part
    assert board.bench.message.severity == "error"
    assert board.bench.message.place == "e9"
    assert not board.bench.do("Nothing", lambda part: part)


def test_a_clash_is_kept_with_the_last_good_geometry_and_told() -> None:
    board = Board(triangle("10", "7", "7"))
    assert board.report.state == "bound"
    good = dict(board.part.points)

    def longer(part: Part) -> Part:
        draft = Draft(part)
        draft.change_binding("b1", value="30")
        return draft.done()

    assert board.bench.do("Longer", longer)
    assert board.part.bindings["b1"].value == "30"
    assert dict(board.part.points) == good
    assert set(board.report.clashes[0]) == {"b1", "b2", "b3"}
    assert board.bench.message.severity == "warning"
    assert (board.bench.message.severity, board.bench.message.place) == ("warning", "b3")


def test_a_listener_that_fails_does_not_keep_the_others_from_hearing() -> None:
    board, heard = Board(), []

    def fails(change: Change) -> None:
        raise RuntimeError("broken pane")

    board.bench.notices.listen(fails)
    leave = board.bench.notices.listen(heard.append)
    with pytest.raises(RuntimeError):
        board.bench.do("One", line_edit)
    assert any(change.reason == "edit" for change in heard)
    leave()
    count = len(heard)
    with pytest.raises(RuntimeError):
        board.bench.select(("e1",))
    assert len(heard) == count


def test_a_gesture_is_one_step_and_can_be_given_up() -> None:
    board = Board()
    board.bench.do("One", line_edit)
    start = board.part
    for shift in (1.0, 2.0, 3.0):
        moved = start.having(points={n: (x + shift, y) for n, (x, y) in start.points.items()})
        board.bench.gesture.shift(Solution(moved, SolveReport()))
    assert board.report.freedoms == 4
    assert board.bench.gesture.settle("Drag")
    assert len(board.bench.history.steps) == 3
    board.bench.undo()
    assert board.part is start
    moved = start.having(points={**start.points, "p1": (9, 9)})
    board.bench.gesture.shift(Solution(moved, SolveReport()))
    board.bench.gesture.restore()
    assert board.part is start
    assert not board.bench.gesture.settle("Drag")


def test_typing_goes_to_a_row_and_wrong_text_stays_with_its_reason() -> None:
    board = Board()
    board.use("line")
    board.press(Pointer(0, 0))
    assert not board.typing.type_text("hello")
    assert board.typing.type_text("4")
    assert board.typing.entry is not None
    assert board.typing.entry.row == "length"
    board.typing.type_text("0*nothing")
    board.key("enter")
    assert board.typing.entry is not None
    assert "nothing" in board.typing.entry.error
    assert board.bench.message.place == "readout.length"
    for _ in "*nothing":
        board.key("backspace")
    board.key("tab")
    assert board.typing.entry is None
    assert board.typing.row == "angle"
    assert board.tool.held["length"].amount == 40.0


def test_only_the_text_of_a_dimension_moves_without_a_solve() -> None:
    solves = []
    board = Board(triangle("10", "7", "7"))
    solver = board.bench.solving.solver
    board.bench.solving.solver = lambda part: solves.append(part) or solver(part)
    board.bench.do("Place", lambda part: Draft(part).done().having(name="Gusset"))
    assert board.part.name == "Gusset"
    assert solves == []


def test_opening_a_damaged_file_leaves_the_part(tmp_path: Path) -> None:
    path = tmp_path / "bad.profile.json"
    path.write_text("{", encoding="utf-8")
    board = Board()
    board.bench.do("One", line_edit)
    part = board.part
    assert not perform("file.open", board, AnsweringHost(path=path, unsaved="discard"))
    assert board.part is part
    assert board.bench.message.severity == "error"


def test_saving_and_opening_again_gives_the_same_part(tmp_path: Path) -> None:
    path = tmp_path / "bar.profile.json"
    board = Board()
    board.bench.do("One", line_edit)
    host = AnsweringHost(path=path)
    assert perform("file.save", board, host)
    assert not board.bench.is_changed
    part = board.part
    perform("file.new_in", board, host)
    assert board.part.unit == "in"
    assert not board.part.points
    perform("file.open", board, host)
    assert board.part == part
    assert board.bench.path == path


def test_a_file_changed_by_somebody_else_is_replaced_only_after_asking(tmp_path: Path) -> None:
    path = tmp_path / "bar.profile.json"
    board = Board()
    board.bench.do("One", line_edit)
    perform("file.save", board, AnsweringHost(path=path))
    foreign = path.read_text(encoding="utf-8").replace('"Bar"', '"Other"')
    path.write_text(foreign, encoding="utf-8")
    board.bench.do("Two", line_edit)
    perform("file.save", board, AnsweringHost(path=path, sure=False))
    assert path.read_text(encoding="utf-8") == foreign
    assert board.bench.is_changed
    perform("file.save", board, AnsweringHost(path=path, sure=True))
    assert "Other" not in path.read_text(encoding="utf-8")
    assert not board.bench.is_changed


def test_a_motion_of_a_drag_is_told_once() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (40, 0))
    board, heard = Board(draft.done()), []
    board.press(Pointer(40, 0))
    board.move(Pointer(44, 0))
    board.bench.notices.listen(heard.append)
    board.move(Pointer(46, 3))
    assert [change.reason for change in heard] == ["drag"]
    assert heard[0].after.points["p2"] == pytest.approx((46.0, 3.0))
