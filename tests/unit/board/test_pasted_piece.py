"""A pasted piece is put where it goes: with snaps, marks and typed places, in one step."""

from __future__ import annotations

import pytest

from sketcher.board.action_table import perform
from sketcher.board.board import Board
from sketcher.board.toolkit.pasted_piece import PastedPiece
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from tests.hands import BoardHands
from tests.hosts import AnsweringHost

REACH = 0.5


def plate() -> Part:
    """A hole of 8, a line far from it, a circle and a point."""
    draft = Draft(Part())
    hole = draft.circle((10.0, 10.0), 4.0)
    draft.bind("diameter", (hole,), "8")
    draft.line((40.0, 0.0), (80.0, 0.0))
    draft.circle((60.0, 40.0), 12.0)
    return draft.done()


@pytest.fixture
def pasted() -> BoardHands:
    """A board with a copy of the hole in hand, pasted at 100, 100."""
    board, host = Board(plate()), AnsweringHost()
    host.place = (100.0, 100.0)
    board.bench.select((next(iter(board.part.curves)),))
    assert perform("edit.copy", board, host)
    assert perform("edit.paste", board, host)
    assert isinstance(board.tool, PastedPiece)
    return BoardHands(board, REACH)


def center(board: Board) -> tuple[str, tuple[float, float]]:
    (hole,) = board.bench.selection.ids
    name = board.part.curves[hole].center
    return name, board.part.points[name]


def one_step(board: Board) -> None:
    """One undo takes the piece away, one redo brings it back where it was placed."""
    there = board.part
    assert board.bench.undo()
    assert len(board.part.curves) == 3
    assert board.tool.name == "pick"
    assert not board.bench.history.can_undo
    assert board.bench.redo()
    assert board.part is there


def test_a_center_goes_onto_a_point_and_shares_it(pasted: BoardHands) -> None:
    board = pasted.board
    pasted.point((60.3, 40.2))
    assert board.tool.spot is not None
    assert board.tool.spot.word == "center of h2"
    assert [mark.shape for mark in board.preview.marks] == ["center"]
    assert [word.text for word in board.preview.words] == ["center of h2"]
    assert any(ghost.curve.center == (60.0, 40.0) for ghost in board.preview.curves
               if ghost.mood == "new")
    pasted.click((60.3, 40.2))
    name, at = center(board)
    assert at == (60.0, 40.0)
    assert name in plate().points
    assert sum(b.kind == "diameter" for b in board.part.bindings.values()) == 2
    assert board.tool.name == "pick"
    one_step(board)


def test_a_center_goes_onto_a_line_and_is_bound_to_it(pasted: BoardHands) -> None:
    board = pasted.board
    pasted.click((53.0, 0.2))
    name, at = center(board)
    assert at == pytest.approx((53.0, 0.0), abs=0.1)
    assert [b.kind for b in board.part.bindings.values() if name in b.of] == ["on"]
    one_step(board)


def test_a_typed_place_is_exact(pasted: BoardHands) -> None:
    board = pasted.board
    pasted.type("21.5\t-7.25\n")
    _, at = center(board)
    assert at == pytest.approx((21.5, -7.25), abs=1e-12)
    one_step(board)


def test_without_a_place_it_stays_where_it_was_pasted(pasted: BoardHands) -> None:
    board = pasted.board
    pasted.point((30.0, 30.0))
    pasted.press("escape")
    assert center(board)[1] == pytest.approx((100.0, 100.0))
    assert board.tool.name == "pick"
    one_step(board)


def test_with_ctrl_nothing_snaps(pasted: BoardHands) -> None:
    pasted.click((60.3, 40.2), keys=("ctrl",))
    assert center(pasted.board)[1] == pytest.approx((60.3, 40.2))


def test_space_holds_it_by_the_next_point() -> None:
    board, host = Board(plate()), AnsweringHost()
    host.place = (0.0, -50.0)
    line = list(board.part.curves)[1]
    board.bench.select((line,))
    perform("edit.copy", board, host)
    perform("edit.paste", board, host)
    hands = BoardHands(board, REACH)
    first = board.tool.grip
    hands.press("space")
    assert board.tool.grip != first
    other, was = board.tool.grip, board.part.points
    way = was[first][0] - was[other][0]
    hands.click((60.0, 40.0))  # the center of the circle
    (made,) = board.bench.selection.ids
    ends = [board.part.points[p] for p in board.part.curves[made].points]
    assert {y for _, y in ends} == {40.0}
    assert sorted(x for x, _ in ends) == pytest.approx(sorted([60.0, 60.0 + way]))


def test_a_change_from_elsewhere_puts_it_down(pasted: BoardHands) -> None:
    board = pasted.board
    board.bench.undo()
    assert board.tool.name == "pick"
    pasted.click((60.0, 40.0))
    assert board.part.curves.keys() == plate().curves.keys()
