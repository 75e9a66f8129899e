"""Scribe tools, played as events."""

from __future__ import annotations

from math import cos, hypot, radians, sin

import pytest

from sketcher.board.action_table import perform
from sketcher.board.board import Board
from sketcher.board.preview import Pointer
from sketcher.board.toolkit.scribe_tool import rounded
from sketcher.part.edits.draft import Draft
from sketcher.part.value import CircleCurve, Part
from sketcher.part.whole import curve_value
from tests.hands import BoardHands
from tests.hosts import AnsweringHost
from tests.layouts import fixed_point, grid


def hands_on(part: Part, reach: float = 0.8) -> BoardHands:
    return BoardHands(Board(part), reach)


def frame() -> Part:
    """Layout lines x = 0 and 60 (s1, s2), y = 0 and 40 (s3, s4), with fixed ends."""
    return grid((0.0, 60.0), (0.0, 40.0))


def rounds() -> Part:
    """Fixed layout circles s1 (R10) and s2 (R4), 40 apart, and a lone fixed point p3."""
    draft = Draft(Part())
    for x, radius in ((0.0, 10.0), (40.0, 4.0)):
        circle = draft.circle(fixed_point(draft, (x, 0.0)), radius, "layout")
        draft.bind("radius", (circle,), radius)
    fixed_point(draft, (20.0, 30.0))
    return draft.done()


def fresh(board: Board, before: Part) -> list[str]:
    return [name for name in board.part.curves if name not in before.curves]


def is_tight(board: Board) -> bool:
    return board.report.state == "bound" and not board.report.doubled


def test_a_ladder_is_typed_at_once_to_the_side_of_the_pointer() -> None:
    hands = hands_on(frame())
    board, before = hands.board, hands.board.part
    hands.tool("offset ladder")
    hands.click((30.0, 0.0))
    hands.point((30.0, 20.0))
    for letter in "12, 24, 36.5":
        board.typing.type_text(letter)
    shown = [ghost.curve.start[1] for ghost in board.preview.curves]
    assert shown == pytest.approx([12.0, 24.0, 36.5])
    board.key("enter")
    made = fresh(board, before)
    assert [curve_value(board.part, board.part.curves[n]).start[1] for n in made] == [12, 24, 36.5]
    assert {board.part.curves[n].role for n in made} == {"layout"}
    assert is_tight(board)
    hands.point((30.0, -5.0))
    hands.type("+3 +3\n")
    heights = [curve_value(board.part, board.part.curves[n]).start[1]
               for n in fresh(board, before)[3:]]
    assert heights == pytest.approx([-3.0, -6.0])
    assert is_tight(board)
    board.bench.undo()
    board.bench.undo()
    assert board.part is before


def test_a_press_scribes_one_rung_where_the_pointer_is() -> None:
    hands = hands_on(frame())
    board, before = hands.board, hands.board.part
    hands.tool("offset ladder")
    hands.click((30.0, 0.0), (30.0, 17.04))
    (name,) = fresh(board, before)
    assert curve_value(board.part, board.part.curves[name]).start[1] == pytest.approx(17.0)
    assert is_tight(board)


def test_a_ladder_of_circles_about_a_crossing_and_about_a_circle() -> None:
    hands = hands_on(frame())
    board, before = hands.board, hands.board.part
    hands.tool("offset ladder")
    hands.point((60.0, 40.0))
    assert board.preview.words[0].text.startswith("crossing of")
    hands.click((60.0, 40.0))
    hands.type("5, 9\n")
    made = fresh(board, before)
    circles = [board.part.curves[n] for n in made]
    assert all(isinstance(c, CircleCurve) for c in circles)
    assert [c.radius for c in circles] == [5.0, 9.0]
    assert is_tight(board)
    hands.click((60.0 + 9.0 * cos(0.7), 40.0 + 9.0 * sin(0.7)))
    hands.point((60.0 + 4.0 * cos(0.7), 40.0 + 4.0 * sin(0.7)))
    hands.type("2.5\n")
    assert board.part.curves[fresh(board, before)[-1]].radius == pytest.approx(6.5)
    assert is_tight(board)


def test_a_ladder_that_cannot_be_read_stays_open_and_says_why() -> None:
    hands = hands_on(frame())
    board, before = hands.board, hands.board.part
    hands.tool("offset ladder")
    hands.click((30.0, 0.0))
    hands.point((30.0, 9.0))
    hands.type("12, what\n")
    assert board.typing.entry is not None
    assert "what" in board.bench.message.text
    for _ in range(4):
        board.key("backspace")
    hands.type("0\n")
    assert board.typing.entry.text == "12, 0"
    assert "zero" in board.bench.message.text
    assert board.part is before
    board.key("escape")
    board.key("escape")
    assert not board.typing.rows() or board.typing.rows()[0].name != "ladder"
    assert board.key("escape")
    assert board.tool.name == "pick"


def test_a_ladder_in_the_other_unit_keeps_its_unit() -> None:
    hands = hands_on(frame())
    board, before = hands.board, hands.board.part
    board.bench.show_unit("in")
    hands.tool("offset ladder")
    hands.click((30.0, 0.0))
    hands.point((30.0, 20.0))
    hands.type("1, +1/2\n")
    heights = [curve_value(board.part, board.part.curves[n]).start[1] for n in fresh(board, before)]
    assert heights == pytest.approx([25.4, 38.1])


def test_a_slope_from_a_crossing_ends_at_its_run() -> None:
    hands = hands_on(frame())
    board, before = hands.board, hands.board.part
    hands.tool("line at angle")
    hands.click((60.0, 0.0))
    hands.point((40.0, 14.0))
    hands.type("30\t24\n")
    (name,) = fresh(board, before)
    line = curve_value(board.part, board.part.curves[name])
    assert line.end == pytest.approx((36.0, 24.0 * 0.5773502691896257), abs=1e-9)
    assert is_tight(board)
    kinds = sorted(b.kind for n, b in board.part.bindings.items() if n not in before.bindings)
    assert kinds == ["angle", "on", "on", "run"]


def test_a_slope_from_a_line_ends_where_it_is_pressed() -> None:
    hands = hands_on(frame())
    board, before = hands.board, hands.board.part
    hands.tool("line at angle")
    hands.click((0.0, 0.0))
    hands.point((0.0, 25.0))
    hands.press("w")
    assert "from s1" in board.prompt
    assert board.preview.lit == ("s1",)
    hands.click((16.0, 29.0))
    (name,) = fresh(board, before)
    added = [b for n, b in board.part.bindings.items() if n not in before.bindings]
    angle = next(b for b in added if b.kind == "angle")
    assert (set(angle.of), angle.value) == ({"s1", name}, "29")
    assert is_tight(board)
    hands.click((0.0, 40.0))
    hands.press("e")
    assert [row.name for row in board.typing.rows()] == ["angle", "rise", "length", "run"]
    hands.press("backspace")
    assert board.typing.rows()[0].name == "x"


@pytest.mark.parametrize("place", [(23.4, 17.2), (60.0, 20.0), (12.0, 0.0), (0.0, 0.0)])
@pytest.mark.parametrize("empty", [True, False])
def test_no_start_leaves_a_freedom(place: tuple[float, float], empty: bool) -> None:
    hands = hands_on(Part() if empty else frame())
    hands.tool("line at angle")
    hands.click(place)
    hands.point((place[0] + 10.0, place[1] + 9.0))
    hands.type("35\t12\n")
    board = hands.board
    name = list(board.part.curves)[-1]
    assert is_tight(board), board.report
    start = curve_value(board.part, board.part.curves[name]).start
    assert start == pytest.approx(place, abs=0.06)


def test_another_extent_takes_the_place_of_one_that_cannot_be() -> None:
    hands = hands_on(frame())
    board, before = hands.board, hands.board.part
    hands.tool("line at angle")
    hands.click((60.0, 0.0))
    hands.point((62.0, 20.0))
    hands.type("90\t24\n")
    assert (board.bench.message.severity, board.bench.message.place) == ("error", "readout.run")
    assert board.part is before
    hands.press("e")
    assert board.typing.open_row("rise")
    hands.type("24\n")
    (name,) = fresh(board, before)
    assert curve_value(board.part, board.part.curves[name]).end == pytest.approx((60.0, 24.0))
    assert is_tight(board)


def test_touching_circles_are_chosen_by_the_pointer() -> None:
    hands = hands_on(frame())
    board, before = hands.board, hands.board.part
    hands.tool("tangent circle")
    hands.click((30.0, 0.0), (60.0, 20.0))
    hands.type("8\n")
    assert len(board.preview.curves) == 4
    assert "4 fit" in board.prompt
    for place in ((52.0, 8.0), (68.0, -8.0)):
        hands.point(place)
        meant = [g.curve for g in board.preview.curves if g.mood == "new"]
        assert [c.center for c in meant] == [pytest.approx(place)]
    hands.click((68.0, -8.0))
    (name,) = fresh(board, before)
    assert curve_value(board.part, board.part.curves[name]).center == pytest.approx((68.0, -8.0))
    assert is_tight(board)
    hands.click((30.0, 0.0), (60.0, 20.0), (0.0, 20.0))
    hands.click((30.0, 30.0))
    circle = curve_value(board.part, board.part.curves[fresh(board, before)[-1]])
    assert (*circle.center, circle.radius) == pytest.approx((30.0, 30.0, 30.0), abs=1e-9)
    assert is_tight(board)


@pytest.mark.parametrize(("presses", "away", "below"), [
    (((6.4, 7.7), (38.3, 3.6)), (30.0 + 10.0, 30.0 + 4.0), False),  # outside both
    (((6.4, -7.7), (38.3, -3.6)), (30.0 + 10.0, 30.0 + 4.0), True),
    (((-8.0, 6.0), (43.5, 2.0)), (30.0 - 10.0, 30.0 - 4.0), True),  # around both
])
def test_a_touching_circle_is_made_where_its_curves_were_pressed(
    presses: tuple[tuple[float, float], ...], away: tuple[float, float], below: bool
) -> None:
    # The center lies so far from both centers, which are 40 apart.
    x = (away[0] ** 2 - away[1] ** 2 + 40.0 ** 2) / 80.0
    y = (away[0] ** 2 - x * x) ** 0.5 * (-1.0 if below else 1.0)
    hands = hands_on(rounds())
    board, before = hands.board, hands.board.part
    hands.tool("tangent circle")
    hands.click(*presses)
    hands.type("30\n")
    (name,) = fresh(board, before)
    circle = curve_value(board.part, board.part.curves[name])
    assert circle.center == pytest.approx((x, y), abs=1e-9)
    assert is_tight(board)


def test_no_touching_circle_is_told() -> None:
    hands = hands_on(frame())
    board, before = hands.board, hands.board.part
    hands.tool("tangent circle")
    hands.click((0.0, 20.0), (60.0, 20.0))
    hands.type("8\n")
    assert (board.bench.message.severity, board.bench.message.place) == ("error", "readout.radius")
    board.key("escape")
    board.key("backspace")
    assert len(board.tool.ids) == 1
    assert board.part is before


@pytest.mark.parametrize(("presses", "start", "inner"), [
    (((0.0, 10.0), (40.0, 4.0)), (1.5, 9.886859966642596), False),
    (((0.0, -10.0), (40.0, -4.0)), (1.5, -9.886859966642596), False),
    (((0.0, 10.0), (40.0, -4.0)), (3.5, 9.367496997597597), True),
    (((0.0, -10.0), (40.0, 4.0)), (3.5, -9.367496997597597), True),
])
def test_the_touching_line_is_the_one_that_was_pressed(
    presses: tuple[tuple[float, float], ...], start: tuple[float, float], inner: bool
) -> None:
    # Contacts: cos = (R - r)/d for the outer tangents, (R + r)/d for the inner ones.
    hands = hands_on(rounds())
    board, before = hands.board, hands.board.part
    hands.tool("tangent line")
    hands.click(presses[0])
    hands.point(presses[1])
    (shown,) = (ghost.curve for ghost in board.preview.curves if ghost.mood == "new")
    hands.click(presses[1])
    (name,) = fresh(board, before)
    line = curve_value(board.part, board.part.curves[name])
    assert line.start == pytest.approx(start, abs=1e-9)
    assert (shown.start, shown.end) == (line.start, line.end)
    assert (line.start[1] * line.end[1] < 0.0) is inner
    assert is_tight(board)


def test_touching_lines_are_chosen_by_the_pointer_where_presses_leave_it_open() -> None:
    hands = hands_on(rounds())
    board, before = hands.board, hands.board.part
    hands.tool("tangent line")
    hands.click((-10.0, 0.0), (44.0, 0.0))
    assert len(board.preview.curves) == 4
    hands.click((20.0, 7.2))
    hands.click((-7.0, -7.0), (20.0, 30.0))
    assert len(board.preview.curves) == 2
    hands.click((15.0, 20.0))
    assert is_tight(board)
    for name in fresh(board, before):
        start = curve_value(board.part, board.part.curves[name]).start
        assert hypot(*start) == pytest.approx(10.0, abs=1e-9)
    kinds = sorted(b.kind for n, b in board.part.bindings.items() if n not in before.bindings)
    assert kinds == ["on", "on", "on", "tangent", "tangent", "tangent"]


def test_no_touching_line_is_told() -> None:
    draft = Draft(rounds())
    draft.circle("p1", 3.0, "layout")
    hands = hands_on(draft.done())
    hands.tool("tangent line")
    hands.click((0.0, 10.0), (0.0, 3.0))
    assert hands.board.bench.message.severity == "warning"
    assert hands.board.tool.ids == ("s1",)


def test_a_slot_path_is_typed_through() -> None:
    hands = hands_on(rounds())
    board, before = hands.board, hands.board.part
    hands.tool("slot center line")
    hands.click((0.0, 0.0))
    hands.point((50.0, 5.0))
    hands.type("52\t6\n")
    hands.point((47.0, 22.0))
    hands.type("26\n")
    hands.type("8\n")
    made = [curve_value(board.part, board.part.curves[n]) for n in fresh(board, before)]
    assert sorted(c.radius for c in made if hasattr(c, "radius")) == pytest.approx(
        [4.0, 4.0, 48.0, 52.0, 56.0])
    assert is_tight(board)


def test_a_slot_path_is_pressed_through_and_taken_back() -> None:
    hands = hands_on(rounds())
    board, before = hands.board, hands.board.part
    hands.tool("slot center line")
    hands.click((0.0, 0.0))
    place = [(50.0 * cos(radians(a)), 50.0 * sin(radians(a))) for a in (10.2, 39.8)]
    hands.click(*place)
    hands.point((55.0, 0.0))
    assert len(board.preview.curves) > 3
    hands.press("backspace")
    hands.click(place[1])
    hands.click((55.0 * cos(radians(25.0)), 55.0 * sin(radians(25.0))))
    assert is_tight(board)
    made = fresh(board, before)
    values = {b.value for n, b in board.part.bindings.items()
              if n not in before.bindings and b.value}
    assert len(made) == 7
    assert values == {"10", "40", "50", "5"}


def test_what_is_selected_is_taken_along() -> None:
    for names, tool, taken in (
        (("s1",), "offset ladder", ("s1",)), (("s1", "s2"), "offset ladder", ()),
        (("s1", "s2"), "tangent circle", ("s1", "s2")),
        (("s1", "s2"), "tangent line", ("s1", "s2")),
        (("p1", "p2"), "tangent line", ()), (("s1",), "tangent line", ("s1",)),
    ):
        board = Board(rounds())
        board.bench.select(names)
        board.use(tool)
        assert board.tool.ids == taken, (names, tool)


def test_hidden_layout_is_not_picked() -> None:
    board = Board(frame())
    assert board.bench.derived.picker().nearest_curve((30.0, 0.0), 1.0) is not None
    perform("view.layout", board, AnsweringHost())
    assert board.bench.settings["show_layout"] is False
    assert board.bench.derived.picker().nearest((30.0, 0.0), 1.0) is None
    assert board.bench.derived.picker().nearest((-10.0, 0.0), 1.0) is None
    assert board.bench.derived.picker().in_box((-20.0, -20.0), (80.0, 80.0), True) == ()
    perform("view.layout", board, AnsweringHost())
    assert board.bench.derived.picker().nearest((30.0, 0.0), 1.0) is not None


@pytest.mark.parametrize(
    ("value", "px", "wanted"), [(17.04, 0.09, 17.0), (17.26, 0.09, 17.3), (17.26, 0.3, 17.0),
                                (0.2604, 0.0009, 0.26), (123.0, 4.0, 120.0), (5.0, 0.0, 5.0)],
)
def test_values_round_to_what_the_eye_can_tell(value: float, px: float, wanted: float) -> None:
    assert rounded(value, px) == wanted


def test_a_tool_on_an_empty_sheet_says_what_it_wants() -> None:
    for name in ("offset ladder", "line at angle", "tangent circle", "tangent line",
                 "slot center line", "trace"):
        board = Board()
        board.use(name)
        board.move(Pointer(3.0, 4.0, 1.0))
        board.press(Pointer(3.0, 4.0, 1.0))
        board.release(Pointer(3.0, 4.0, 1.0))
        assert board.prompt
        assert board.part.curves == {}
