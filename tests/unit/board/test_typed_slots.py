"""Slots by typed values leave no freedom, and their center line meets what is there."""

from __future__ import annotations

from math import cos, radians, sin

import pytest

from sketcher.board.board import Board
from sketcher.board.preview import Pointer
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from sketcher.part.whole import curve_value

REACH = 0.6


def typed(board: Board, text: str) -> None:
    for letter in text:
        if letter in "\t\n":
            assert board.key("tab" if letter == "\t" else "enter")
        else:
            assert board.typing.type_text(letter), (text, board.prompt)


def values(board: Board) -> list[tuple[str, str | None]]:
    return sorted((b.kind, b.value) for b in board.part.bindings.values() if b.value)


@pytest.mark.parametrize("size", ["12", "\t6"])
def test_a_straight_slot_by_values_alone_is_bound(size: str) -> None:
    board = Board()
    board.use("slot")
    typed(board, "10\t20\n" "40\t30\n" f"{size}\n")
    kind, value = ("offset", "12") if size == "12" else ("radius", "6")
    assert values(board) == sorted([("angle", "30"), ("distance", "40"), ("rise", "20"),
                                    ("run", "10"), (kind, value)])
    assert (board.report.state, board.report.doubled) == ("bound", ())
    moments = board.bench.derived.inspection().profile.moments
    assert moments.centroid == pytest.approx(
        (10 + 20 * cos(radians(30)), 20 + 20 * sin(radians(30))), abs=1e-9)


@pytest.mark.parametrize("size", ["10", "\t5"])
def test_a_curved_slot_by_values_alone_is_bound(size: str) -> None:
    board = Board()
    board.use("curved slot")
    typed(board, "10\t20\n" "40\t15\n" "75\n" f"{size}\n")
    kind, value = ("offset", "10") if size == "10" else ("radius", "5")
    assert values(board) == sorted([("angle", "15"), ("angle", "75"), ("distance", "40"),
                                    ("rise", "20"), ("run", "10"), (kind, value)])
    assert (board.report.state, board.report.doubled) == ("bound", ())
    # An annular sector of 60 degrees between 35 and 45 with two half circles of radius 5.
    area = board.bench.derived.inspection().profile.area
    assert area == pytest.approx(radians(60) / 2 * (45**2 - 35**2) + 3.141592653589793 * 25)


def test_prompts_name_the_row_that_is_typed_into() -> None:
    for tool in ("curved slot", "slot center line"):
        board = Board()
        board.use(tool)
        press(board, (0.0, 0.0))
        assert board.tool.rows()[0].label == "Distance"
        assert "distance" in board.prompt
        assert "radius" not in board.prompt


def holes(*places: tuple[float, float]) -> Board:
    """Two fixed holes and a fixed point, and the tool in hand."""
    draft = Draft(Part())
    for at in places:
        circle = draft.circle(at, 3.0)
        draft.bind("diameter", (circle,), "6")
        draft.bind("fixed", (draft.curves[circle].center,))
    board = Board(draft.done())
    board.use("slot center line")
    return board


def press(board: Board, *places: tuple[float, float]) -> None:
    for x, y in places:
        board.move(Pointer(x, y, REACH))
        board.press(Pointer(x, y, REACH))
        board.release(Pointer(x, y, REACH))


def path(board: Board):  # type: ignore[no-untyped-def]
    return next(curve_value(board.part, c) for c in board.part.curves.values() if c.kind == "arc")


def test_a_slot_center_line_meets_existing_centers_exactly() -> None:
    board = holes((0, 0), (30, 40), (-40, 30))  # both 50 from the first
    press(board, (0.3, -0.2), (30.2, 40.3), (-39.8, 30.3))
    board.typing.hold("radius", "4")
    board.key("enter")
    arc = path(board)
    assert arc.radius == pytest.approx(50.0, abs=1e-9)
    assert arc.start == pytest.approx((30, 40), abs=1e-9)
    assert arc.end == pytest.approx((-40, 30), abs=1e-9)
    assert (board.report.state, board.report.doubled) == ("bound", ())
    assert not any(kind == "angle" for kind, _ in values(board))  # they follow from the holes


def test_a_center_that_is_not_on_the_center_line_gives_its_direction() -> None:
    board = holes((0, 0), (30, 40), (-20, 15))
    press(board, (0, 0), (30, 40), (-20, 15))
    board.typing.hold("width", "8")
    board.key("enter")
    arc = path(board)
    assert arc.end == pytest.approx((-40, 30), abs=1e-9)
    assert ("offset", "8") in values(board)
    assert (board.report.state, board.report.doubled) == ("bound", ())


def test_the_rows_of_the_width_show_what_is_drawn() -> None:
    board = holes((0, 0), (30, 40), (-40, 30))
    press(board, (0, 0), (30, 40), (-40, 30))
    board.move(Pointer(0, 57, REACH))
    rows = {row.name: row.value for row in board.typing.rows()}
    assert rows == pytest.approx({"radius": 7.0, "width": 14.0}, abs=1e-9)
    for tool, places, at in (("slot", ((10, 10), (50, 10)), (30, 17)),
                             ("curved slot", ((0, 0), (50, 0), (0, 50)), (35, 45.0333210))):
        board = Board()
        board.use(tool)
        press(board, *places)
        board.move(Pointer(*at, REACH))
        rows = {row.name: row.value for row in board.typing.rows()}
        shown = board.preview.curves
        drawn = min(g.curve.radius for g in shown if hasattr(g.curve, "radius"))
        assert rows["radius"] == pytest.approx(drawn, abs=1e-9)


def test_a_typed_value_that_follows_from_the_others_is_told_and_not_doubled() -> None:
    draft = Draft(Part())
    hole = draft.circle((0, 0), 6.0)
    draft.bind("fixed", (draft.curves[hole].center,))
    draft.bind("diameter", (hole,), "12")
    ends = [draft.point(at) for at in ((20, 0), (50, 0))]
    draft.bind("fixed", (ends[0],))
    draft.bind("run", tuple(ends), "30")
    draft.bind("level", tuple(ends))
    board = Board(draft.done())
    board.use("line")
    press(board, (20, 0))
    board.move(Pointer(50.1, 0.2, REACH))
    board.typing.hold("length", "30")
    press(board, (50.1, 0.2))
    assert "e1" in board.part.curves
    assert board.part.curves["e1"].ends == ("p2", "p3")
    assert "no new dimension" in board.bench.message.text
    assert ("distance", "30") not in values(board)
    assert not board.report.doubled
