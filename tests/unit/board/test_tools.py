"""Every drawing tool, played as a list of events."""

from __future__ import annotations

from math import hypot

import pytest

from sketcher.board.board import Board, all_tools
from sketcher.board.preview import Pointer
from sketcher.part.kinds import measure

FAR = 0.5  # reach that keeps the free places below apart from each other


def board_with(tool: str) -> Board:
    board = Board()
    board.use(tool)
    return board


def click(board: Board, *places: tuple[float, float], reach: float = FAR) -> None:
    for x, y in places:
        board.move(Pointer(x, y, reach))
        board.press(Pointer(x, y, reach))
        board.release(Pointer(x, y, reach))


def kinds(board: Board) -> list[str]:
    return sorted(b.kind for b in board.part.bindings.values())


def worst_joint(board: Board) -> float:
    part = board.part
    return max((abs(measure(part, b)) for b in part.bindings.values() if b.kind == "tangent"),
               default=0.0)


def test_every_tool_says_what_it_wants_and_has_a_key_of_its_own() -> None:
    keys = [tool.key for tool in all_tools().values() if tool.key]
    assert len(keys) == len(set(keys))
    for name in all_tools():
        board = board_with(name)
        assert len(board.prompt) > 10
        assert board.tool.label
        assert not board.tool.preview.curves


@pytest.mark.parametrize("role", ["line", "axis", "layout line"])
def test_single_lines_carry_their_role(role: str) -> None:
    board = board_with(role)
    click(board, (3, 4), (40, 21))
    (curve,) = board.part.curves.values()
    assert curve.role == {"line": "outline", "layout line": "layout"}.get(role, role)
    click(board, (50, 4), (50.2, 30))
    assert len(board.part.curves) == 2
    assert kinds(board) == ["plumb"]


def test_a_circle_with_a_typed_diameter() -> None:
    board = board_with("circle")
    click(board, (10, 10))
    board.typing.open_row("diameter")
    board.typing.type_text("12")
    board.key("enter")
    click(board, (30, 30))
    (circle,) = board.part.curves.values()
    assert circle.radius == pytest.approx(6.0, abs=1e-12)
    assert kinds(board) == ["diameter"]


def test_a_circle_touches_a_line_and_another_runs_through_an_end() -> None:
    board = board_with("line")
    click(board, (0, 0), (60, 17))
    board.use("circle")
    click(board, (25, 30))
    board.move(Pointer(30.5, 9.2, 3.0))
    assert board.tool.spot is not None
    assert board.tool.spot.word == "tangent to e1"
    board.move(Pointer(25.5, 30, 3.0))
    assert board.tool.spot.word == ""
    board.press(Pointer(30.5, 9.2, 3.0))
    assert kinds(board) == ["fixed", "tangent"]
    click(board, (80, 30), (60, 17))
    assert kinds(board) == ["fixed", "on", "tangent"]
    assert board.report.converged


def test_a_circle_on_an_axis_proposes_nothing_until_the_pointer_has_left_its_center() -> None:
    board = board_with("axis")
    click(board, (0, 0), (13, 41))  # so that its foot from a center on it is not quite the center
    board.use("circle")
    x = 10 * 13 / 41
    click(board, (x + 0.2, 10))
    for place in ((x + 0.2, 10), (x + 2.0, 10), (x + 0.3, 12.5)):
        board.move(Pointer(*place, 3.0))
        assert board.tool.spot is not None
        assert (board.tool.spot.word, board.tool.spot.ties) == ("", ())
    board.move(Pointer(13.3, 40, 3.0))
    assert board.tool.spot.word == "through p2"


def test_a_circle_whose_rim_would_be_within_the_reach_of_its_center_touches_nothing() -> None:
    board = board_with("line")
    click(board, (0, 0), (60, 0))
    board.use("circle")
    center = Pointer(30, 2, 0.5)
    board.move(center)
    board.press(center)
    board.move(Pointer(30, -2, 3.0))  # the line is within reach, 2 from the center
    assert board.tool.spot is not None
    assert board.tool.spot.word == ""


def test_an_arc_about_a_center_follows_the_pointer_round() -> None:
    board = board_with("arc center")
    click(board, (0, 0), (20, 3))
    for place in ((10, 17), (-15, 12), (-20, -3), (-5, -19)):
        board.move(Pointer(*place, FAR))
    board.press(Pointer(-5, -19, FAR))
    (arc,) = board.part.curves.values()
    assert arc.turn == "ccw"
    value = board.bench.derived.picker().pieces[0].curve
    assert 3.9 < value.sweep < 4.5
    ends = [board.part.points[p] for p in arc.ends]
    assert hypot(*ends[0]) == pytest.approx(hypot(*ends[1]), abs=1e-9)


def test_the_turn_of_an_arc_changes_by_key_and_its_sweep_can_be_typed() -> None:
    board = board_with("arc center")
    click(board, (0, 0), (20, 3))
    board.move(Pointer(15, 14, FAR))
    assert board.key("r")
    board.typing.type_text("90")
    board.key("enter")
    arc = board.part.curves["a1"]
    assert arc.turn == "cw"
    (angle,) = (b for b in board.part.bindings.values() if b.kind == "angle")
    assert angle.value == "90"  # between two scribed lines from the center
    sweep = board.bench.derived.picker().pieces[0].curve.sweep
    assert abs(sweep) == pytest.approx(1.5707963267948966, abs=1e-9)


def test_an_arc_through_three_places() -> None:
    board = board_with("arc points")
    click(board, (0, 0), (40, 3), (21, 15))
    arc = board.bench.derived.picker().pieces[0].curve
    assert hypot(21 - arc.center[0], 15 - arc.center[1]) == pytest.approx(arc.radius, abs=1e-9)


def test_an_arc_between_two_ends_with_a_typed_radius() -> None:
    board = board_with("arc points")
    click(board, (0, 0), (40, 3))
    board.move(Pointer(20, 9, FAR))
    board.typing.type_text("30")
    board.key("enter")
    board.key("enter")
    assert kinds(board) == ["fixed", "radius"]
    assert board.bench.derived.picker().pieces[0].curve.radius == pytest.approx(30.0, abs=1e-9)


def test_a_radius_too_small_for_the_ends_is_refused() -> None:
    board = board_with("arc points")
    click(board, (0, 0), (40, 3))
    board.move(Pointer(20, 9, FAR))
    board.typing.hold("radius", "12")
    board.key("enter")
    assert not board.part.curves
    assert board.bench.message.severity == "warning"


def test_a_rectangle_takes_run_and_rise() -> None:
    board = board_with("rectangle")
    click(board, (0, 0))
    board.move(Pointer(30, 20, FAR))
    for text in ("48", "26"):
        board.typing.type_text(text)
        board.key("tab")
    board.key("enter")
    assert kinds(board) == ["fixed", "level", "level", "plumb", "plumb", "rise", "run"]
    assert board.report.state == "bound"
    assert max(board.part.points.values()) == pytest.approx((48, 26))


def test_a_straight_slot_is_tangent_and_has_five_ways_to_move() -> None:
    board = board_with("slot")
    click(board, (5, 5), (45, 19), (27, 19))
    assert kinds(board) == ["equal"] + ["tangent"] * 4
    assert board.report.freedoms == 5
    assert not board.report.doubled
    assert worst_joint(board) < 1e-9


def test_a_curved_slot_is_tangent_and_has_six_ways_to_move() -> None:
    board = board_with("curved slot")
    click(board, (1, 2), (40, 3), (25, 32), (25, 39))
    assert kinds(board) == ["tangent"] * 4
    assert board.report.freedoms == 6
    assert not board.report.doubled
    assert worst_joint(board) < 1e-9


@pytest.mark.parametrize("tool", ["line", "circle", "slot", "curved slot", "rectangle",
                                  "arc center", "arc points"])
def test_backspace_and_escape_take_places_back(tool: str) -> None:
    board = board_with(tool)
    click(board, (5, 5))
    assert board.tool.is_begun()
    assert board.key("backspace")
    assert not board.tool.is_begun()
    click(board, (5, 5))
    board.key("escape")
    assert not board.tool.is_begun()
    assert board.tool.name == tool
    board.key("escape")
    assert board.tool.name == "pick"
    assert not board.part.points


def test_escape_with_nothing_to_leave_is_left_to_the_window() -> None:
    board = board_with("line")
    click(board, (3, 4), (40, 21))
    assert board.key("escape")  # the tool
    board.bench.select(tuple(board.part.curves))
    assert board.key("escape")
    assert not board.bench.selection.ids
    assert not board.key("escape")


def test_nothing_is_drawn_without_a_size() -> None:
    board = board_with("line")
    click(board, (5, 5), (5, 5))
    assert not board.part.curves
    assert "length" in board.bench.message.text
