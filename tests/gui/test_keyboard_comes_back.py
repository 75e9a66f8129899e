"""The keyboard goes back to the sheet from the panes: after a tool, a way to mend, a value."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QToolButton

from sketcher.desk.panes.ledger_model import FIELDS
from sketcher.desk.panes.ledger_table import AIR
from sketcher.part.value import Binding, Part
from tests.gui.driver import LEFT, Driver, wait_until
from tests.gui.window_hands import WindowHands
from tests.plates import plate


def open_half() -> Part:
    """Half of a plate of 60 by 40, drawn on the right of a line that nobody has drawn."""
    points = {"a": (0.0, 0.0), "b": (30.0, 0.0), "c": (30.0, 40.0), "d": (0.0, 40.0)}
    return plate(points, {"e1": ("a", "b"), "e2": ("b", "c"), "e3": ("c", "d")},
                 *(Binding("fixed", (name,)) for name in points))


def press_finding(driver: Driver, code: str) -> None:
    """Press the row of a finding, as soon as it is told."""
    table = driver.window.inspection.tables["findings"]

    def place() -> int:
        found = [table.rows.entry(row).cells[0].text for row in range(table.rows.rowCount())]
        return found.index(code) if code in found else -1

    wait_until(lambda: place() >= 0)
    index = table.order.mapFromSource(table.rows.index(place(), 1))
    table.scrollTo(index)
    QTest.mouseClick(table.viewport(), LEFT, pos=table.visualRect(index).center())
    driver.settle(5)


@pytest.mark.parametrize(("bar", "tool"), [("tray", "mirror"), ("rack", "fillet")])
def test_a_tool_taken_from_a_bar_takes_the_keyboard_to_the_sheet(
    driver: Driver, bar: str, tool: str
) -> None:
    driver.new()
    driver.board.load(open_half())
    press_finding(driver, "half")
    table = driver.window.inspection.tables["findings"]
    table.setFocus()
    assert QApplication.focusWidget() is table
    button = getattr(driver.window, bar).widgetForAction(
        driver.window.commands.made[f"tool.{tool}"])
    assert isinstance(button, QToolButton)
    QTest.mouseClick(button, LEFT)
    driver.settle(5)
    assert driver.board.tool.name == tool
    assert QApplication.focusWidget() is driver.view


def test_enter_mirrors_the_half_after_its_finding_was_pressed(driver: Driver) -> None:
    driver.new()
    driver.board.load(open_half())
    press_finding(driver, "half")
    driver.window.inspection.tables["findings"].setFocus()
    button = driver.window.tray.widgetForAction(driver.window.commands.made["tool.mirror"])
    QTest.mouseClick(button, LEFT)
    driver.settle(5)
    assert "Enter mirrors about it" in driver.window.prompt.text()
    driver.key(Qt.Key.Key_Return)
    assert len(driver.board.part.mirrors) == 1


def test_a_pressed_half_shows_both_its_ends(driver: Driver) -> None:
    driver.new()
    driver.board.load(open_half())
    press_finding(driver, "half")
    x0, y0, x1, y1 = driver.view.sheet.camera.window
    for x, y in ((0.0, 0.0), (0.0, 40.0)):
        assert x0 < x < x1
        assert y0 < y < y1
    assert y1 - y0 < 1.6 * 40.0  # the ends, not all that there is to see


def test_a_way_to_mend_takes_the_keyboard_to_the_sheet(driver: Driver) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(20)
    part = driver.board.part
    row = next(b for b in part.bindings.values() if b.kind == "level")
    driver.board.bench.do("Say it twice", lambda p: p.having(
        bindings={**p.bindings, "again": Binding("level", row.of)}))
    bar = driver.window.ledger.mending
    wait_until(lambda: bar.isVisible() and bool(bar.buttons))
    driver.window.ledger.table.setFocus()
    asks, drops = bar.buttons[0], bar.buttons[-1]
    asks.setFocus()
    QTest.mouseClick(asks, LEFT)  # which leaves the bar where it is
    driver.settle(5)
    assert QApplication.focusWidget() is driver.view
    wait_until(lambda: asks not in bar.buttons)
    drops.setFocus()
    QTest.mouseClick(drops, LEFT)
    driver.settle(5)
    assert QApplication.focusWidget() is driver.view


def opened(driver: Driver) -> QLineEdit:
    """Open the field of the ledger's first dimension."""
    ledger = driver.window.ledger
    row = next(n for n in range(ledger.model.rowCount())
               if (at := ledger.model.at(n)) is not None and at.quantity is not None)
    index = ledger.model.index(row, FIELDS.index("value"))
    ledger.table.setCurrentIndex(index)
    ledger.table.setFocus()
    ledger.table.edit(index)
    field = QApplication.focusWidget()
    assert isinstance(field, QLineEdit)
    return field


def corrected(driver: Driver, value: str) -> None:
    """Type another value into the ledger's first dimension."""
    field = opened(driver)
    field.selectAll()
    QTest.keyClicks(field, value)
    QTest.keyClick(field, Qt.Key.Key_Return)
    driver.settle(5)


def sized(driver: Driver) -> None:
    """Draw a rectangle with its width and height typed."""
    driver.new()
    hands = WindowHands(driver)
    hands.tool("rectangle")
    hands.click((0.0, 0.0))
    hands.type("40\t30\n")
    driver.settle(5)


def test_a_corrected_value_gives_the_keyboard_back_to_the_tool_in_hand(driver: Driver) -> None:
    sized(driver)
    driver.tool("line")
    corrected(driver, "41")
    assert QApplication.focusWidget() is driver.view
    driver.tool("pick")
    corrected(driver, "42")
    assert QApplication.focusWidget() is driver.window.ledger.table  # the next row is at hand


def slope(driver: Driver) -> None:
    """Press a line that nothing binds, of 30 along and 12 up."""
    driver.new()
    driver.board.load(plate({"a": (0.0, 0.0), "b": (30.0, 12.0)}, {"e1": ("a", "b")}))
    driver.view.fit()
    driver.settle(5)
    driver.click(20.0, 8.0)
    assert driver.board.bench.selection.ids == ("e1",)
    driver.settle(5)


def bound(driver: Driver, kind: str) -> QLineEdit:
    """Press a kind's button, which opens the field of its value."""
    QTest.mouseClick(driver.window.ledger.kinds.buttons[kind], LEFT)
    driver.settle(5)
    field = QApplication.focusWidget()
    assert isinstance(field, QLineEdit)
    return field


@pytest.mark.parametrize(("closing", "rise"), [(Qt.Key.Key_Return, 9.0), (Qt.Key.Key_Escape, 12.0)])
def test_the_value_of_a_new_binding_gives_the_keyboard_back_to_the_sheet(
    driver: Driver, closing: Qt.Key, rise: float
) -> None:
    slope(driver)
    field = bound(driver, "rise")
    field.selectAll()
    driver.keys("9 +")
    driver.key(Qt.Key.Key_Return)
    assert QApplication.focusWidget() is field  # refused: it stays open
    field.selectAll()
    driver.keys("9")
    driver.key(closing)
    driver.settle(5)
    ends = driver.board.part.points
    assert ends["b"][1] - ends["a"][1] == pytest.approx(rise, abs=1e-9)
    assert QApplication.focusWidget() is driver.view
    bindings = driver.board.part.bindings
    driver.keys("f")
    driver.settle(5)
    assert driver.board.tool.name == "fillet"
    assert driver.board.part.bindings == bindings


def test_whoever_goes_to_the_ledger_stays_there_until_nothing_is_left_to_leave(
    driver: Driver,
) -> None:
    slope(driver)
    bound(driver, "rise")
    table = driver.window.ledger.table
    row = driver.window.ledger.model.row_of("b1")
    assert row is not None
    for closing in (Qt.Key.Key_Return, Qt.Key.Key_Escape):
        for field in ("of", "value"):  # the first press leaves a field that is open
            cell = table.visualRect(table.model().index(row, FIELDS.index(field))).center()
            QTest.mouseClick(table.viewport(), LEFT, pos=cell)
            driver.settle(5)
        QTest.mouseDClick(table.viewport(), LEFT, pos=cell)
        assert isinstance(QApplication.focusWidget(), QLineEdit)
        driver.key(closing)
        driver.settle(5)
        assert QApplication.focusWidget() is table
    driver.key(Qt.Key.Key_Escape)
    assert driver.board.bench.selection.ids == ()
    assert QApplication.focusWidget() is table
    driver.key(Qt.Key.Key_Escape)
    assert QApplication.focusWidget() is driver.view


def test_escape_leaves_where_a_finding_led_before_it_leaves_the_list(driver: Driver) -> None:
    driver.new()
    driver.board.load(open_half())
    press_finding(driver, "half")
    driver.board.bench.select(())
    table = driver.window.inspection.tables["findings"]
    assert QApplication.focusWidget() is table
    led = driver.view.sheet.camera
    driver.key(Qt.Key.Key_Escape)
    assert driver.view.sheet.camera is not led
    assert QApplication.focusWidget() is table
    driver.key(Qt.Key.Key_Escape)
    assert QApplication.focusWidget() is driver.view


@pytest.mark.parametrize("text", ["2 5/8", "40 + 123.25 - 1 5/16"])
def test_the_field_of_a_value_is_as_wide_as_its_text(driver: Driver, text: str) -> None:
    sized(driver)
    table = driver.window.ledger.table
    narrow = table.fontMetrics().horizontalAdvance("5/8") + AIR  # all the others are
    table.setColumnWidth(FIELDS.index("value"), narrow)
    field = opened(driver)
    field.selectAll()
    QTest.keyClicks(field, text)
    driver.settle(5)
    field.home(False)
    first = field.cursorRect().center().x()
    field.end(False)
    last = field.cursorRect().center().x()
    assert last - first >= field.fontMetrics().horizontalAdvance(text) - 1  # all of it in view
    assert field.geometry().right() <= table.viewport().width()
    assert 0 <= first < last <= field.width()
    QTest.keyClick(field, Qt.Key.Key_Escape)
