"""The chain: lines and arcs in one go, bound by what the snaps showed."""

from __future__ import annotations

import pytest

from sketcher.board.board import Board
from sketcher.board.preview import Pointer


def click(board: Board, *places: tuple[float, float], keys: frozenset[str] = frozenset()) -> None:
    for x, y in places:
        board.move(Pointer(x, y, keys=keys))
        board.press(Pointer(x, y, keys=keys))
        board.release(Pointer(x, y, keys=keys))


def chain() -> Board:
    board = Board()
    board.use("chain")
    return board


def kinds(board: Board) -> list[tuple[str, tuple[str, ...]]]:
    return [(b.kind, b.of) for b in board.part.bindings.values()]


def test_a_rectangle_by_snaps_is_bound_up_to_its_two_sides() -> None:
    board = chain()
    click(board, (0.2, 0.3), (50, 0.3), (50.3, 30))
    board.move(Pointer(0.2, 30.2))
    assert "level" in board.preview.words[0].text
    board.press(Pointer(0.2, 30.2))
    click(board, (0, 0))
    assert board.message.text == "The chain is closed."
    assert board.report.freedoms == 2
    assert ("plumb", ("p1", "p4")) in kinds(board)


def test_a_typed_length_becomes_a_dimension_and_the_direction_a_binding() -> None:
    board = chain()
    click(board, (0, 0))
    board.move(Pointer(30, 0.2))
    assert board.type_text("42.5")
    assert board.key("enter")
    assert board.key("enter")
    assert board.part.points["p2"] == pytest.approx((42.5, 0.0), abs=1e-9)
    assert ("distance", ("e1",)) in kinds(board)
    assert ("level", ("e1",)) in kinds(board)
    assert board.report.freedoms == 0
