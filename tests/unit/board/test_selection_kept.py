"""What was selected before: what typing may change of it, and what a plain press leaves of it."""

from __future__ import annotations

import pytest

from sketcher.board.board import Board, all_tools
from sketcher.board.preview import Pointer
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part


def half() -> Part:
    """Two lines end to end, and a circle."""
    draft = Draft(Part())
    draft.line((0, 0), (40, 0))
    draft.line("p2", (50, 30))
    draft.circle((20, 20), 6.0)
    return draft.done()


@pytest.mark.parametrize("name", sorted(all_tools()))
def test_only_picking_types_into_the_rows_of_the_selection(name: str) -> None:
    board = Board(half())
    board.bench.select(("p1", "p3"))
    before = board.part
    board.use(name)
    if name == "pick":
        assert board.typing.lit == "distance"
        assert board.typing.type_text("7")
    elif not board.tool.rows():
        assert board.typing.rows(), "what is selected is still read"
        assert board.typing.lit == ""
        assert not board.typing.type_text("7")
        assert not board.typing.open_row("distance", "7")
        assert board.part is before
    if name != "pick":
        assert not board.typing.hold("distance", "7") or board.part is before


def test_a_tool_without_rows_is_among_the_tools_above() -> None:
    board = Board(half())
    board.use("mirror")
    assert board.tool.rows() == ()


def test_a_plain_press_on_one_of_several_selects_that_one_on_release() -> None:
    board = Board(half())
    board.bench.select(("e1", "e2", "h1"))
    board.press(Pointer(10, 0.1))
    assert board.bench.selection.ids == ("e1", "e2", "h1")
    board.release(Pointer(10, 0.1))
    assert board.bench.selection.ids == ("e1",)


def test_a_drag_or_shift_leaves_the_selection_as_it_is() -> None:
    board = Board(half())
    board.bench.select(("e1", "e2", "h1"))
    board.press(Pointer(10, 0.1))
    board.move(Pointer(10, 6))
    board.release(Pointer(10, 6))
    assert board.bench.selection.ids == ("e1", "e2", "h1")
    shift = frozenset({"shift"})
    x, y = board.part.points["p1"]
    board.press(Pointer(x + 10, y, 1.0, shift))
    board.release(Pointer(x + 10, y, 1.0, shift))
    assert board.bench.selection.ids == ("e2", "h1")


def test_the_prompt_says_that_shift_adds() -> None:
    assert "Shift adds" in Board(half()).prompt


def test_another_part_begins_without_a_reading_of_the_pointer() -> None:
    board = Board(half())
    board.move(Pointer(33, 44))
    assert [row.text for row in board.typing.rows()][:2] == ["33", "44"]
    board.load(half())
    rows = board.typing.rows()
    assert [(row.name, row.value, row.text) for row in rows] == [("x", None, ""), ("y", None, "")]
    board.move(Pointer(3, 4))
    assert [row.text for row in board.typing.rows()][:2] == ["3", "4"]


@pytest.mark.parametrize("name", sorted(all_tools()))
def test_a_tool_shows_nothing_lit_that_it_does_not_use(name: str) -> None:
    """What a tool took of the selection it lights itself; else it looks as if it would be used."""
    board = Board(half())
    board.bench.select(("e1",))
    board.use(name)
    kept = board.tool.keeps_selection
    assert board.bench.selection.ids == (("e1",) if kept else ())
    if kept:
        assert name in {"pick", "move", "copy", "rotate", "reflect", "mirror", "rows",
                        "bolt circle"}


def test_what_a_tool_took_stays_lit_by_the_tool() -> None:
    board = Board(half())
    board.bench.select(("e1", "e2"))
    board.use("fillet")
    assert board.bench.selection.ids == ()
    assert board.preview.lit == ("e1", "e2")


def test_a_dimension_just_made_is_not_lit_with_the_next_tool() -> None:
    board = Board(half())
    board.use("dimension")
    for at in ((10.0, 0.1), (20.0, -12.0)):
        board.move(Pointer(*at))
        board.press(Pointer(*at))
    assert board.bench.selection.ids == ("b1",)
    board.use("fillet")
    assert board.bench.selection.ids == ()


def test_what_lay_under_the_pointer_is_not_lit_with_the_next_tool() -> None:
    board = Board(half())
    board.move(Pointer(10, 0.1))
    assert board.bench.hover == ("e1",)
    board.use("line")
    assert board.bench.hover == ()
