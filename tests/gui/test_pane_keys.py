"""Keys of the sheet while a pane has the keyboard, and what panes and fields keep of them."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit, QPushButton, QTableView, QWidget

from sketcher.desk.panes.inspection_pane import TITLES
from sketcher.desk.panes.ledger_model import FIELDS
from sketcher.part.edits.set_parameter import set_parameter
from tests.contrast import contrast
from tests.gui.driver import LEFT, NONE, Driver, wait_until
from tests.seldom import some_of

SHIFT = Qt.KeyboardModifier.ShiftModifier
KEY = Qt.Key


def plate(driver: Driver) -> Driver:
    """A plate with six findings, all of them shown."""
    driver.window.filing.open_demo("latch-plate.profile.json")
    driver.board.bench.do("Set", lambda part: set_parameter(part, "wall", "8"))
    driver.settle(20)
    table = driver.window.inspection.tables["findings"]
    wait_until(lambda: table.rows.rowCount() == 6)
    return driver


def of_section(name: str) -> Callable[[Driver], QWidget]:
    """The table of a section of the inspection, open."""
    def take(driver: Driver) -> QWidget:
        pane = driver.window.inspection
        pane.box.setCurrentWidget(pane.tables[name])
        return pane.tables[name]
    return take


def tab_of_section(driver: Driver) -> QWidget:
    box = driver.window.inspection.box
    return next(child for child in box.children()
                if child.metaObject().className() == "QToolBoxButton")


def ledger(driver: Driver) -> QWidget:
    table = driver.window.ledger.table
    table.setCurrentIndex(table.model().index(2, FIELDS.index("of")))
    table.clearSelection()
    return table


def parameters(driver: Driver) -> QWidget:
    table = driver.window.ledger.parameters
    table.setCurrentIndex(table.model().index(0, 2))  # its result, which nobody types
    return table


def kind_button(driver: Driver) -> QWidget:
    if not driver.board.bench.selection.ids:
        driver.board.bench.select(("e1", "e2"))
    driver.settle(5)
    return next(iter(driver.window.ledger.kinds.buttons.values()))


def cleanup(driver: Driver) -> QWidget:
    driver.tool("clean up")
    driver.settle(5)
    wait_until(lambda: driver.window.cleanup.list.count() > 0)
    return driver.window.cleanup.list


PANES: dict[str, Callable[[Driver], QWidget]] = {
    **{f"section {name}": of_section(name) for name in TITLES},
    "tab of a section": tab_of_section,
    "copy": lambda driver: driver.window.inspection.copy,
    "ledger": ledger,
    "parameters": parameters,
    "kind": kind_button,
    "clean-up": cleanup,
    "tray": lambda driver: driver.window.tray.widgetForAction(driver.window.tray.actions()[0]),
    "rack": lambda driver: driver.window.rack.widgetForAction(driver.window.rack.actions()[0]),
    "readout": lambda driver: driver.window.readout.cells[0][2],
}


SECTIONS = ("section findings", "section dimensions", "section cutting")
"""Of the sections, which are tables of one class, those that are always tried."""


@pytest.mark.parametrize("name", some_of(
    PANES, lambda name: name in SECTIONS or not name.startswith("section ")))
def test_keys_of_the_sheet_work_in_every_pane(driver: Driver, name: str) -> None:
    plate(driver)
    bench, view = driver.board.bench, driver.view
    pane = PANES[name](driver)

    def focus() -> QWidget:
        nonlocal pane
        if name == "kind":  # made anew for every selection
            pane = kind_button(driver)
        pane.setFocus()
        assert driver.window.focusWidget() is pane
        return pane

    view.zoom(3.0)
    zoomed = view.sheet.camera.scale
    QTest.keyClick(focus(), KEY.Key_Home)
    assert view.sheet.camera.scale < zoomed

    if name not in ("parameters",):
        bench.select(("h1",))
        if pane is driver.window.ledger.table:
            pane.clearSelection()
        QTest.keyClick(focus(), KEY.Key_Delete)
        assert "h1" not in driver.board.part.curves
        driver.act("edit.undo")

    QTest.keyClick(focus(), "L")
    assert driver.board.tool.name == "line"
    assert view.hasFocus()  # what follows is meant for the line
    QTest.keyClick(pane if pane.isVisible() else view, KEY.Key_Escape)
    assert driver.board.tool.name == "pick"
    if pane.isVisible():
        QTest.keyClick(focus(), KEY.Key_F, SHIFT)
        assert driver.board.tool.name == "chamfer"
        QTest.keyClick(view if name == "kind" else focus(), KEY.Key_Escape)
        if name == "kind":  # the tool had begun with what is selected for the buttons
            QTest.keyClick(view, KEY.Key_Escape)
        assert driver.board.tool.name == "pick"
        bench.select(("e1",))
        QTest.keyClick(focus(), KEY.Key_Escape)
        assert bench.selection.ids == ()
        assert (view if name == "kind" else pane).hasFocus()
        if name != "kind":
            QTest.keyClick(pane, KEY.Key_Escape)
            assert view.hasFocus()  # nothing was left that it could have ended


def test_a_pressed_finding_is_deleted_and_the_list_gone_on_with(driver: Driver) -> None:
    plate(driver)
    table = driver.window.inspection.tables["findings"]
    rows = {table.entry_at(table.order.index(n, 0)).cells[0].text: n for n in range(6)}
    port = table.viewport()
    table.scrollToBottom()
    place = table.visualRect(table.order.index(rows["detached"], 0)).center()
    QTest.mouseClick(port, LEFT, NONE, place)
    assert table.hasFocus()
    QTest.keyClick(table, KEY.Key_Up)
    QTest.keyClick(table, KEY.Key_Down)
    assert table.currentIndex().row() == rows["detached"]  # arrows are the list's
    QTest.keyClick(table, KEY.Key_Delete)
    assert "h1" not in driver.board.part.curves
    wait_until(lambda: table.rows.rowCount() == 5)
    assert table.hasFocus()


def test_a_finding_about_a_binding_chooses_its_row_alone(driver: Driver) -> None:
    plate(driver)
    ledger = driver.window.ledger
    ledger.table.scrollToBottom()
    table = driver.window.inspection.tables["findings"]
    row = next(n for n in range(6)
               if table.entry_at(table.order.index(n, 0)).cells[0].text == "reference-differs")
    ledger.table.verticalScrollBar().setValue(0 if ledger.model.row_of("b24") > 8 else 99)
    QTest.mouseClick(table.viewport(), LEFT, NONE,
                     table.visualRect(table.order.index(row, 0)).center())
    driver.settle(5)
    assert ledger.chosen() == ["b24"]
    assert set(driver.view.sheet.lit) == {"b24", "p2", "p4"}  # the rest is lit on the sheet alone
    seen = ledger.table.visualRect(ledger.model.index(ledger.model.row_of("b24"), 0))
    assert ledger.table.viewport().rect().contains(seen.center())
    middle = seen.center()
    middle.setX(ledger.table.columnViewportPosition(FIELDS.index("of")) + 4)  # beside all words
    strong = ledger.table.viewport().grab().toImage().pixelColor(middle)
    assert strong == QColor(driver.window.look.chosen)
    points = set(driver.board.part.points)
    QTest.keyClick(table, KEY.Key_Delete)
    assert "b24" not in driver.board.part.bindings
    assert set(driver.board.part.points) == points


@pytest.mark.parametrize("look_name", ["dye", "paper"])
def test_rows_of_curves_that_a_finding_names_are_fainter_than_a_binding_that_is_meant(
    driver: Driver,
) -> None:
    plate(driver)
    ledger, look = driver.window.ledger, driver.window.look

    def ground(name: str) -> QColor:
        at = ledger.table.visualRect(ledger.model.index(ledger.model.row_of(name), 1))
        assert ledger.table.viewport().rect().contains(at)
        image = ledger.table.viewport().grab().toImage()
        return image.pixelColor(at.left() + 4, at.center().y())

    table = driver.window.inspection.tables["findings"]
    row = next(n for n in range(6)
               if table.entry_at(table.order.index(n, 0)).cells[0].text == "gap")
    QTest.mouseClick(table.viewport(), LEFT, NONE,
                     table.visualRect(table.order.index(row, 0)).center())
    driver.settle(5)
    assert set(ledger.chosen()) >= {"b4", "b13"}
    assert ground("b4") == ground("b13") == QColor(look.raised)
    assert ground("b5") == QColor(look.field)
    box = ledger.table.visualRect(ledger.model.index(ledger.model.row_of("b4"), 1))
    image = ledger.table.viewport().grab().toImage()
    sign = {image.pixelColor(x, y).name() for x in range(box.left(), box.left() + 26)
            for y in range(box.top(), box.bottom())}
    assert max(contrast(name, look.raised) for name in sign) > 4.5
    for press in (lambda: ledger.table.selectRow(ledger.model.row_of("b5")),
                  lambda: driver.board.bench.select(("b5",))):
        driver.board.bench.select(("e1",))
        driver.settle(5)
        assert ground("b4") == QColor(look.raised)
        press()
        driver.settle(5)
        assert ground("b5") == QColor(look.chosen)
        assert ground("b4") == QColor(look.field)


# What panes keep.


def opened_field(table: QTableView) -> QLineEdit:
    return next(f for f in table.viewport().findChildren(QLineEdit) if f.isVisible())


def test_what_is_typed_into_a_value_of_the_ledger_stays_there(driver: Driver) -> None:
    plate(driver)
    table, model = driver.window.ledger.table, driver.window.ledger.model
    row = next(n for n, line in enumerate(model.lines) if model.at(n) and model.at(n).quantity)
    name = model.at(row).id
    table.setFocus()
    table.setCurrentIndex(model.index(row, FIELDS.index("value")))
    QTest.keyClick(table, "l")
    field = opened_field(table)
    field.clear()
    for key in ("w", "a", "l", "l", KEY.Key_Home, KEY.Key_Delete, KEY.Key_End):
        QTest.keyClick(field, key)
    assert field.text() == "all"  # letters, Home and Delete are the field's
    QTest.keyClick(field, KEY.Key_Escape)
    assert driver.board.tool.name == "pick"
    assert "l" not in (driver.board.part.bindings[name].value or "")


def test_a_name_is_not_typed_over_by_a_key_of_the_sheet(driver: Driver) -> None:
    plate(driver)
    table, model = driver.window.ledger.table, driver.window.ledger.model
    table.setFocus()
    table.setCurrentIndex(model.index(model.row_of("b24"), 0))
    QTest.keyClick(table, "l")
    assert driver.board.tool.name == "line"
    assert "b24" in driver.board.part.bindings


def test_delete_takes_a_row_of_the_ledger_and_a_parameter(driver: Driver) -> None:
    plate(driver)
    pane = driver.window.ledger
    pane.table.setFocus()
    pane.table.selectRow(pane.model.row_of("b24"))
    QTest.keyClick(pane.table, KEY.Key_Delete)
    assert "b24" not in driver.board.part.bindings
    driver.board.bench.select(("e5",))  # lights rows, and chooses none of them
    driver.settle(5)
    QTest.keyClick(pane.table, KEY.Key_Delete)
    assert "e5" not in driver.board.part.curves
    driver.board.bench.select(("h1",))
    rows = pane.parameters
    rows.setFocus()
    rows.setCurrentIndex(rows.model().index(0, 0))
    QTest.keyClick(rows, KEY.Key_Delete)
    assert not driver.board.part.parameters
    assert "h1" in driver.board.part.curves


def test_a_new_parameter_and_a_search_are_typed(driver: Driver) -> None:
    plate(driver)
    pane = driver.window.ledger
    rows = pane.parameters
    rows.setFocus()
    rows.setCurrentIndex(rows.model().index(1, 0))
    QTest.keyClick(rows, "l")
    field = opened_field(rows)
    QTest.keyClicks(field, "ug=4")
    QTest.keyClick(field, KEY.Key_Return)
    driver.settle(5)
    assert driver.board.part.parameters["lug"] == "4"
    pane.search.setFocus()
    driver.board.bench.select(("h1",))
    for key in ("l", "e", KEY.Key_Home, KEY.Key_Delete, KEY.Key_Escape, KEY.Key_Backspace):
        QTest.keyClick(pane.search, key)
    assert pane.search.text() == "e"
    pane.filter.setFocus()
    QTest.keyClick(pane.filter, "r")
    assert pane.filter.currentText() == "Relations"
    assert driver.board.tool.name == "pick"
    assert driver.board.bench.selection.ids == ("h1",)
    assert "h1" in driver.board.part.curves


def test_enter_and_space_press_the_button_that_has_the_keyboard(driver: Driver) -> None:
    plate(driver)
    button = kind_button(driver)
    button.setFocus()
    before = len(driver.board.part.bindings)
    QTest.keyClick(button, KEY.Key_Space)
    driver.settle(5)
    assert len(driver.board.part.bindings) == before + 1
    assert isinstance(driver.window.inspection.copy, QPushButton)
