"""The hand on points in the window: joining by drag and by menu, what keys and presses mean."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from sketcher.board.places.line_ups import HINT
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from tests.gui.driver import LEFT, NONE, Driver


def two_lines() -> Part:
    """e1 from p1 to p2, e2 from p3 to p4, apart."""
    draft = Draft(Part())
    draft.line((0, 0), (40, 0))
    draft.line((50, 20), (90, 30))
    draft.bind("fixed", ("p1",))
    return draft.done()


@pytest.fixture
def bench(driver: Driver) -> Driver:
    driver.new()
    driver.board.load(two_lines())
    driver.view.fit()
    driver.settle()
    return driver


def words(driver: Driver) -> list[str]:
    return [word.text for word in driver.board.preview.words]


def test_a_drag_onto_another_point_shows_that_it_joins_and_does(bench: Driver) -> None:
    port = bench.view.viewport()
    bench.move(50, 20)
    QTest.mousePress(port, LEFT, NONE, bench.pixel(50, 20))
    for at in ((47, 14), (43, 5), (40.1, 0.1)):
        bench.move(*at, button=LEFT)
    assert words(bench) == ["joins p2"]
    QTest.mouseRelease(port, LEFT, NONE, bench.pixel(40.1, 0.1))
    bench.settle()
    assert bench.board.part.curves["e2"].points == ("p2", "p4")
    assert words(bench) == []
    bench.act("edit.undo")
    assert bench.board.part.curves["e2"].points == ("p3", "p4")
    assert bench.board.part.points["p3"] == (50, 20)


def test_the_menus_join_two_selected_points(bench: Driver) -> None:
    bench.board.bench.select(("p2", "p3"))
    bench.settle()
    menu = bench.window.menu
    menu.press(bench.view.viewport().mapToGlobal(bench.pixel(50, 20)))
    texts = [action.text() for action in menu.menu.actions()]
    menu.menu.close()
    assert "Join the points" in texts
    bench.act("bind.join")
    assert len(bench.board.part.points) == 3


def test_digits_with_another_tool_in_hand_leave_the_selection_alone(bench: Driver) -> None:
    bench.board.bench.select(("p2", "p3"))
    before = bench.board.part
    bench.tool("mirror")
    bench.typed("7")
    assert bench.board.part is before
    bench.tool("pick")
    bench.typed("7")
    assert bench.board.part is not before


def test_a_plain_press_on_one_of_several_leaves_that_one(bench: Driver) -> None:
    bench.board.bench.select(("e1", "e2"))
    bench.click(20, 0)
    assert bench.board.bench.selection.ids == ("e1",)


def test_nothing_is_proposed_over_what_a_corner_tool_just_made(bench: Driver) -> None:
    draft = Draft(Part())
    draft.line((0, 0), (40, 0))
    draft.line("p2", (40, 40))
    bench.board.load(draft.done())
    bench.view.fit()
    bench.settle()
    bench.tool("fillet")
    pixel = 1.0 / bench.view.sheet.camera.scale
    bench.typed(f"{5 * pixel:.3f}")  # so small that its ends are in reach of where the corner was
    bench.click(40, 0)
    assert any(curve.kind == "arc" for curve in bench.board.part.curves.values())
    assert words(bench) == []
    bench.move(40 + 1.5 * pixel, 0)
    assert words(bench) == [], "a hand that lets go shakes by a pixel"
    bench.move(40 - 8 * pixel, 0)
    assert words(bench) == ["run on into each other without a corner"]


@pytest.mark.parametrize("ends", ["enter", "double", "closed"])
def test_the_hint_of_lining_up_waits_until_the_pointer_comes_back(
    bench: Driver, ends: str
) -> None:
    bench.tool("outline")
    bench.click(10, 40)
    bench.click(60, 45)
    assert HINT not in words(bench)
    if ends == "double":
        bench.double(80, 60)
    else:
        bench.click(80, 60)
    if ends == "closed":
        bench.click(10, 40)
    elif ends == "enter":
        bench.key(Qt.Key.Key_Return)
    at = (10, 40) if ends == "closed" else (80, 60)
    assert bench.board.tool.is_begun() is False
    assert HINT not in words(bench)
    bench.move(*at)  # the hand that lets go
    assert HINT not in words(bench)
    bench.move(30, 25)
    bench.move(*at)
    assert HINT in words(bench)


def test_a_new_part_shows_no_reading_of_the_pointer(bench: Driver) -> None:
    bench.move(33, 14)
    texts = [row.text for row in bench.board.typing.rows()[:2]]
    assert all(texts)
    bench.act("file.new_mm")
    bench.settle()
    assert [row.text for row in bench.board.typing.rows()[:2]] == ["", ""]


def test_the_prompt_of_picking_fits_one_line_at_1366(bench: Driver) -> None:
    bench.window.resize(1366, 768)
    bench.settle(20)
    assert "Shift adds" in bench.board.prompt
    told = bench.window.prompt
    assert told.text() == bench.board.prompt
    assert told.fontMetrics().horizontalAdvance(told.text()) <= told.width()
