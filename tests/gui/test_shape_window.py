"""Shape tools and the clean-up through the real window: mouse, keys, rack, list."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QToolButton

from sketcher.desk.menus import RACK
from sketcher.geometry.curves import Arc
from sketcher.geometry.loops import find_loops
from sketcher.part.edits.draft import Draft
from sketcher.part.whole import half, whole
from tests.gui.driver import LEFT, NONE, Driver
from tests.shaped import wing

pytestmark = pytest.mark.gui


def opened(driver: Driver, part) -> None:
    driver.new()
    driver.board.load(part)
    driver.settle()
    driver.view.fit()
    driver.settle()


def test_a_corner_is_rounded_by_key_value_and_click(driver: Driver) -> None:
    opened(driver, wing())
    driver.keys("f")
    assert driver.board.tool.name == "fillet"
    driver.typed("3")
    driver.move(60, 30)
    assert any(ghost.mood == "new" for ghost in driver.board.preview.curves)
    driver.click(60, 30)
    driver.click(20, 30)
    radii = sorted(round(c.radius, 9) for c in half(driver.board.part).values()
                   if isinstance(c, Arc))
    assert radii == [3, 3, 25, 25]
    assert "radius 3" in driver.window.said.text()
    driver.key(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    driver.key(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert driver.board.part.curves.keys() == wing().curves.keys()


def test_the_rack_holds_every_shape_tool_with_a_drawing(driver: Driver) -> None:
    rack = driver.window.rack
    names = [a.objectName().split(".", 1)[1] for a in rack.actions()]
    assert tuple(names[:len(RACK)]) == RACK
    for action in rack.actions():
        assert not action.icon().isNull()
        button = rack.widgetForAction(action)
        assert isinstance(button, QToolButton)
        assert button.accessibleName()
    driver.new()
    button = rack.widgetForAction(rack.actions()[0])
    QTest.mouseClick(button, LEFT)
    driver.settle()
    assert driver.board.tool.name == "fillet"


def test_the_rack_leaves_the_sheet_its_room(driver: Driver) -> None:
    driver.new()
    rack = driver.window.rack
    assert rack.width() < 60
    buttons = [rack.widgetForAction(a) for a in rack.actions()]
    assert all(b.isVisible() for b in buttons), "a tool is hidden behind the rack's extension"
    bottom = buttons[-1].mapTo(driver.window, QPoint(0, buttons[-1].height())).y()
    assert bottom <= driver.window.height()


def spoiled():
    draft = Draft(wing())
    draft.line("p2", (75, -9), name="stub")
    draft.line((0, 0), (60, 0), name="twin")
    return draft.done()


def test_the_clean_up_lists_shows_and_mends(driver: Driver) -> None:
    opened(driver, spoiled())
    pane = driver.window.cleanup
    assert pane.isHidden()
    driver.act("tool.clean up")
    assert pane.isVisible()
    assert [pane.list.item(n).text().split(":")[0] for n in range(pane.list.count())] == [
        "drawn twice", "leftover"]
    pane.list.setCurrentRow(1)
    driver.settle()
    assert "stub" in pane.head.text().split()
    assert driver.board.preview.lit == ("stub",)
    assert any(ghost.mood == "leaves" for ghost in driver.board.preview.curves)
    px, py = driver.view.sheet.camera.to_screen((67.5, -4.5))
    assert 0 <= px <= driver.view.width()
    assert 0 <= py <= driver.view.height()
    QTest.mouseClick(pane.this, LEFT)
    driver.settle()
    assert "stub" not in driver.board.part.curves
    assert pane.list.count() == 1
    QTest.mouseClick(pane.every, LEFT)
    driver.settle()
    assert pane.list.count() == 0
    assert not pane.this.isEnabled()
    pieces = [(p.id, p.curve) for p in whole(driver.board.part) if p.role == "outline"]
    assert find_loops(pieces).sound
    QTest.mouseClick(pane.close_key, LEFT)
    driver.settle()
    assert pane.isHidden()
    assert driver.board.tool.name == "pick"


def test_the_clean_up_by_keyboard_alone(driver: Driver) -> None:
    opened(driver, spoiled())
    driver.window.focus_sheet()
    QTest.keyClick(driver.view, Qt.Key.Key_U, Qt.KeyboardModifier.ShiftModifier)
    driver.settle()
    assert driver.board.tool.name == "clean up"
    QTest.keyClick(driver.view, Qt.Key.Key_A, NONE)
    driver.settle()
    assert driver.window.cleanup.list.count() == 0
    assert "Mended 2" in driver.window.said.text()


def test_spacings_are_edited_in_their_table_and_on_the_sheet(driver: Driver) -> None:
    opened(driver, wing(repeated=False))
    table = driver.window.ledger.patterns
    assert table.isHidden()
    driver.board.bench.select(("h1",))
    driver.act("tool.rows")
    driver.typed("9")
    driver.key(Qt.Key.Key_Return)
    assert driver.board.part.patterns["g1"].step[0] == "9"
    driver.settle()
    assert table.isVisible()
    index = table.rows.index(0, 1)
    table.setCurrentIndex(index)
    table.edit(index)
    editor = driver.target()
    editor.selectAll()
    QTest.keyClicks(editor, "11")
    QTest.keyClick(editor, Qt.Key.Key_Return)
    driver.settle()
    assert driver.board.part.patterns["g1"].step[0] == "11"
    dim = next(d for d in driver.view.sheet.dims() if d.binding == "g1.step1")
    assert dim.text == "11"
    driver.double(*dim.anchor)
    editor = driver.target()
    editor.selectAll()
    QTest.keyClicks(editor, "6.5")
    QTest.keyClick(editor, Qt.Key.Key_Return)
    driver.settle()
    assert driver.board.part.patterns["g1"].step[0] == "6.5"
    assert table.rows.data(table.rows.index(0, 2)) == "6.5"
    driver.key(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert driver.board.part.patterns["g1"].step[0] == "11"
