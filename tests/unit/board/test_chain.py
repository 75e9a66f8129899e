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
    assert board.bench.message.text == "The chain is closed."
    assert board.report.freedoms == 2
    assert ("plumb", ("p1", "p4")) in kinds(board)


def test_a_typed_length_becomes_a_dimension_and_the_direction_a_binding() -> None:
    board = chain()
    click(board, (0, 0))
    board.move(Pointer(30, 0.2))
    assert board.typing.type_text("42.5")
    assert board.key("enter")
    assert board.key("enter")
    assert board.part.points["p2"] == pytest.approx((42.5, 0.0), abs=1e-9)
    assert ("distance", ("e1",)) in kinds(board)
    assert ("level", ("e1",)) in kinds(board)
    assert board.report.freedoms == 0


def test_leaving_along_the_tangent_and_bearing_off_draws_a_tangent_arc() -> None:
    board = chain()
    click(board, (10, 10), (50, 10.2))
    for place in ((54, 10.1), (60, 11), (66, 15)):
        board.move(Pointer(*place))
    assert board.tool.way == "tangent arc"
    board.press(Pointer(66, 22))
    arc = board.part.curves["a1"]
    assert arc.turn == "ccw"
    assert ("tangent", ("e1", "a1")) in kinds(board)
    assert board.part.points[arc.center][0] == pytest.approx(50.0, abs=1e-9)
    # After the arc a line straight on is tangent to it.
    x, y = board.part.points[arc.ends[1]]
    cx, cy = board.part.points[arc.center]
    ahead = (x - (y - cy), y + (x - cx))
    click(board, ahead)
    assert ("tangent", ("e2", "a1")) in kinds(board)
    assert not board.report.doubled


def test_leaving_across_the_tangent_draws_a_line_and_coming_back_decides_anew() -> None:
    board = chain()
    click(board, (10, 10), (50, 10.2))
    board.move(Pointer(53, 14))
    board.move(Pointer(66, 15))
    assert board.tool.way == "line"
    for place in ((50.5, 10), (54, 10), (62, 15)):
        board.move(Pointer(*place))
    assert board.tool.way == "tangent arc"
    board.bench.set_setting("arc_by_motion", False)
    board.key("a")
    assert board.tool.way == "free arc"


def test_a_key_goes_round_the_ways_and_a_free_arc_takes_its_bulge() -> None:
    board = chain()
    click(board, (10, 10))
    assert board.key("a")
    assert board.tool.way == "free arc"
    click(board, (50, 13))
    assert "runs through" in board.prompt
    click(board, (31, 25))
    arc = board.bench.derived.picker().pieces[0].curve
    assert abs(((31 - arc.center[0]) ** 2 + (25 - arc.center[1]) ** 2) ** 0.5
               - arc.radius) < 1e-9
    board.move(Pointer(80, 20))
    assert board.tool.way == "line"


def test_a_free_arc_takes_a_typed_radius_as_a_dimension() -> None:
    board = chain()
    click(board, (10, 10))
    board.key("a")
    click(board, (50, 13))
    board.move(Pointer(30, 20))
    board.typing.type_text("35")
    board.key("enter")
    board.key("enter")
    assert ("radius", ("a1",)) in kinds(board)
    assert board.bench.derived.picker().pieces[0].curve.radius == pytest.approx(35.0, abs=1e-9)


def test_a_typed_radius_holds_a_tangent_arc() -> None:
    board = chain()
    click(board, (10, 10), (50, 10.2))
    board.key("a")
    board.move(Pointer(62, 21))
    board.typing.type_text("15")
    board.key("enter")
    board.typing.open_row("sweep")
    board.typing.type_text("90")
    board.key("enter")
    assert board.tool.spot.at == pytest.approx((65, 25), abs=1e-9)
    board.key("enter")
    assert ("radius", ("a1",)) in kinds(board)
    assert board.part.points["p3"] == pytest.approx((65, 25), abs=1e-9)


def test_backspace_takes_the_last_piece_back_and_goes_on_from_there() -> None:
    board = chain()
    click(board, (10, 10), (50, 13), (70, 40), (30, 60))
    assert len(board.part.curves) == 3
    board.key("backspace")
    board.key("backspace")
    assert list(board.part.curves) == ["e1"]
    click(board, (44, 44))
    assert list(board.part.curves) == ["e1", "e2"]
    ends = [c.ends for c in board.part.curves.values()]
    assert ends[0][1] == ends[1][0]
    for _ in range(3):
        board.key("backspace")
    assert not board.part.curves
    assert not board.tool.is_begun()


def test_undo_and_redo_in_the_middle_of_a_chain() -> None:
    board = chain()
    click(board, (10, 10), (50, 13), (70, 40))
    board.bench.undo()
    click(board, (30, 60))
    assert len(board.part.curves) == 2
    ends = [c.ends for c in board.part.curves.values()]
    assert ends[0][1] == ends[1][0]
    for _ in range(4):
        board.bench.undo()
    assert not board.part.points
    click(board, (70, 70))
    assert len(board.part.curves) == 1


def test_enter_and_double_press_and_escape_end_the_chain() -> None:
    board = chain()
    for height, end in ((10, "enter"), (40, "double"), (70, "escape")):
        click(board, (10, height), (50, height + 3))
        if end == "double":
            board.double(Pointer(50, height + 3))
        else:
            board.key(end)
        assert not board.tool.is_begun(), end
        assert board.tool.name == "chain"
    assert len(board.part.curves) == 3


def test_a_chain_goes_on_from_the_end_of_another_and_ends_there() -> None:
    board = chain()
    click(board, (10, 10), (50, 13), (70, 40))
    board.key("enter")
    click(board, (70, 40), (20, 60), (10, 10))
    assert "joins e1" in board.bench.message.text
    assert not board.tool.is_begun()
    assert board.bench.derived.inspection().profile.closed


def test_ending_on_the_axis_is_said() -> None:
    board = Board()
    board.use("axis")
    click(board, (0, 0), (0.2, 80))
    board.use("chain")
    click(board, (0.3, 10), (40, 10.2), (40.1, 50), (0.2, 50.3))
    assert "reaches it at both ends" in board.bench.message.text
    assert ("on", ("p3", "x1")) in kinds(board)
    assert not board.tool.is_begun()


def test_pieces_of_no_length_are_refused() -> None:
    board = chain()
    click(board, (10, 10), (10, 10))
    assert not board.part.curves
    assert board.tool.is_begun()
