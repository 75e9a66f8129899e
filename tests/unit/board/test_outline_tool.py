"""The outline: lines and arcs in one go, bound by what the snaps showed."""

from __future__ import annotations

from math import cos, radians, sin

import pytest

from sketcher.board.board import Board
from sketcher.board.preview import Pointer


def click(board: Board, *places: tuple[float, float], keys: frozenset[str] = frozenset()) -> None:
    for x, y in places:
        board.move(Pointer(x, y, keys=keys))
        board.press(Pointer(x, y, keys=keys))
        board.release(Pointer(x, y, keys=keys))


def outline() -> Board:
    board = Board()
    board.use("outline")
    return board


def kinds(board: Board) -> list[tuple[str, tuple[str, ...]]]:
    return [(b.kind, b.of) for b in board.part.bindings.values()]


def test_a_rectangle_by_snaps_is_bound_up_to_its_two_sides() -> None:
    board = outline()
    click(board, (0.2, 0.3), (50, 0.3), (50.3, 30))
    board.move(Pointer(0.2, 30.2))
    assert "level" in board.preview.words[0].text
    board.press(Pointer(0.2, 30.2))
    click(board, (0, 0))
    assert board.bench.message.text == "The outline is closed."
    assert board.report.freedoms == 2
    assert ("plumb", ("p1", "p4")) in kinds(board)


def test_a_typed_length_becomes_a_dimension_and_the_direction_a_binding() -> None:
    board = outline()
    click(board, (0, 0))
    board.move(Pointer(30, 0.2))
    assert board.typing.type_text("42.5")
    assert board.key("enter")
    assert board.part.points["p2"] == pytest.approx((42.5, 0.0), abs=1e-9)
    assert ("distance", ("e1",)) in kinds(board)
    assert ("level", ("e1",)) in kinds(board)
    assert board.report.freedoms == 0


def choices(board: Board) -> dict[str, bool]:
    return {choice.name: choice.taken for choice in board.tool.ways() if choice.usable}


def test_the_way_on_is_chosen_and_no_motion_changes_it() -> None:
    board = outline()
    click(board, (10, 10))
    assert choices(board) == {"line": True, "free arc": False}  # nothing is there to be tangent to
    click(board, (50, 10.2))
    for place in ((54, 10.1), (60, 11), (66, 15)):  # along the tangent, then off it
        board.move(Pointer(*place))
    assert board.tool.way == "line"
    assert not board.key("a")  # no letter flips it either
    for way in ("tangent arc", "free arc", "line"):
        assert board.key("space")
        assert choices(board)[way]
        assert board.tool.way == way
    board.choose("tangent arc")
    assert board.tool.way == "tangent arc"


def test_a_tangent_arc_is_bound_and_a_line_straight_on_from_it_too() -> None:
    board = outline()
    click(board, (10, 10), (50, 10.2))
    board.key("space")
    click(board, (66, 22))
    arc = board.part.curves["a1"]
    assert arc.turn == "ccw"
    assert ("tangent", ("e1", "a1")) in kinds(board)
    assert board.part.points[arc.center][0] == pytest.approx(50.0, abs=1e-9)
    x, y = board.part.points[arc.ends[1]]
    cx, cy = board.part.points[arc.center]
    click(board, (x - (y - cy), y + (x - cx)))
    assert ("tangent", ("e2", "a1")) in kinds(board)
    assert not board.report.doubled


def free_arc() -> Board:
    board = outline()
    click(board, (10, 10))
    board.choose("free arc")
    return board


def test_a_free_arc_takes_its_end_and_a_place_on_it() -> None:
    board = free_arc()
    click(board, (50, 13))
    assert "Press a place on the arc" in board.prompt
    click(board, (31, 25))
    arc = board.bench.derived.picker().pieces[0].curve
    assert abs(((31 - arc.center[0]) ** 2 + (25 - arc.center[1]) ** 2) ** 0.5
               - arc.radius) < 1e-9
    board.move(Pointer(80, 20))
    assert board.tool.way == "line"


def test_the_rows_of_a_free_arc_show_what_is_drawn() -> None:
    board = free_arc()
    click(board, (50, 10))
    board.move(Pointer(30, 20))  # chord 40, height 10: (20^2 + 10^2) / (2 * 10) = 25
    (row,) = board.typing.rows()
    assert row.name == "radius"
    assert row.value == pytest.approx(25.0, abs=1e-9)
    board.typing.hold("radius", "30")
    assert not board.preview.guides  # no circle about the start


def test_a_free_arc_takes_a_typed_radius_as_a_dimension() -> None:
    board = free_arc()
    click(board, (50, 13))
    board.move(Pointer(30, 20))
    board.typing.type_text("35")
    board.key("enter")
    assert ("radius", ("a1",)) in kinds(board)
    assert board.bench.derived.picker().pieces[0].curve.radius == pytest.approx(35.0, abs=1e-9)


def about_a_hole() -> Board:
    """An outline that has come to (30, 0), beside a hole about (50, 0)."""
    board = Board()
    board.use("circle")
    click(board, (50, 0))
    board.typing.type_text("16")
    board.key("enter")
    board.use("outline")
    click(board, (0, 0), (30, 0))
    board.choose("free arc")
    return board


def test_an_arc_about_an_existing_center_takes_a_press_on_it_and_one_for_the_end() -> None:
    board = about_a_hole()
    click(board, (50.3, 0.2), (50, 20.4))
    hole, arc = board.part.curves["h1"], board.part.curves["a1"]
    assert arc.center == hole.center
    assert board.part.points[arc.ends[1]] == pytest.approx((50, 20), abs=1e-6)
    assert arc.turn == "cw"
    assert board.tool.way == "line"  # goes on from there
    assert board.tool.is_begun()


def test_an_arc_about_a_center_goes_the_way_of_the_pointer_and_takes_a_sweep() -> None:
    board = about_a_hole()
    click(board, (50, 0))
    for place in ((48, -19), (66, -12)):
        board.move(Pointer(*place))
    assert board.typing.lit == "sweep"
    board.typing.type_text("135")
    board.key("enter")
    arc = board.part.curves["a1"]
    assert arc.turn == "ccw"
    assert ("angle", "135") in [(b.kind, b.value) for b in board.part.bindings.values()]
    end = board.part.points[arc.ends[1]]
    assert end == pytest.approx((50 + 20 * 2**-0.5, -20 * 2**-0.5), abs=1e-9)


def test_the_third_press_on_a_center_draws_about_it() -> None:
    board = about_a_hole()
    click(board, (70, -21))  # not quite on the circle about it
    assert board.tool.stage().rows == ("radius",)
    click(board, (50, 0))
    arc = board.part.curves["a1"]
    assert arc.center == board.part.curves["h1"].center
    x, y = board.part.points[arc.ends[1]]
    assert (x - 50) ** 2 + y**2 == pytest.approx(400.0, rel=1e-9)


def test_escape_takes_back_one_thing_at_a_time() -> None:
    board = about_a_hole()
    click(board, (50, 0))
    board.typing.type_text("9")
    board.key("escape")
    assert not board.typing.is_open
    board.typing.hold("sweep", "90")
    board.key("escape")
    assert board.tool.held == {}
    assert board.tool.stage().rows == ("sweep",)
    board.key("escape")  # the center
    assert board.tool.stage().rows[0] == "distance"
    board.key("escape")  # the outline ends, its pieces stay
    assert not board.tool.is_begun()
    assert "e1" in board.part.curves
    assert board.tool.name == "outline"
    board.key("escape")
    assert board.tool.name == "pick"


def test_a_typed_radius_and_sweep_hold_a_tangent_arc() -> None:
    board = outline()
    click(board, (10, 10), (50, 10.2))
    board.key("space")
    board.move(Pointer(62, 21))
    assert board.typing.lit == "radius"
    board.typing.type_text("15")
    board.key("tab")
    board.typing.type_text("80")
    board.key("enter")
    values = [(b.kind, b.value) for b in board.part.bindings.values()]
    assert ("radius", "15") in values
    assert ("angle", "80") in values
    end = (50 + 15 * sin(radians(80)), 10 + 15 * (1 - cos(radians(80))))
    assert board.part.points[board.part.curves["a1"].ends[1]] == pytest.approx(end, abs=1e-9)


def test_backspace_takes_the_last_piece_back_and_goes_on_from_there() -> None:
    board = outline()
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


def test_undo_and_redo_in_the_middle_of_an_outline() -> None:
    board = outline()
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


def test_enter_and_double_press_and_escape_end_the_outline() -> None:
    board = outline()
    for height, end in ((10, "enter"), (40, "double"), (70, "escape")):
        click(board, (10, height), (50, height + 3))
        if end == "double":
            board.double(Pointer(50, height + 3))
        else:
            board.key(end)
        assert not board.tool.is_begun(), end
        assert board.tool.name == "outline"
    assert len(board.part.curves) == 3


def test_an_outline_goes_on_from_the_end_of_another_and_ends_there() -> None:
    board = outline()
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
    board.use("outline")
    click(board, (0.3, 10), (40, 10.2), (40.1, 50), (0.2, 50.3))
    assert "reaches it at both ends" in board.bench.message.text
    assert ("on", ("p3", "x1")) in kinds(board)
    assert not board.tool.is_begun()


def test_pieces_of_no_length_are_refused() -> None:
    board = outline()
    click(board, (10, 10), (10, 10))
    assert not board.part.curves
    assert board.tool.is_begun()


def test_an_outline_of_nothing_is_called_nothing() -> None:
    board = outline()
    click(board, (0, 0))
    assert board.tool.drawn_from == ""  # no point is there yet
    board.key("enter")
    assert board.bench.message.text == "Nothing was drawn."
    click(board, (0, 0), (50, 0))
    assert board.tool.drawn_from in board.part.points
    board.key("enter")
    assert board.bench.message.text == "The outline ends here, with 1 piece."
    assert board.tool.drawn_from == ""
