"""Steps in the window: undo inside a tool, and values refused in the field where they stand."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt, qInstallMessageHandler
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit, QTableView

from sketcher.desk.dialogs.form import FormDialog
from sketcher.desk.panes.ledger_model import FIELDS
from sketcher.errors import EditError
from sketcher.part.file_text import write
from tests.gui.driver import Driver
from tests.specimens import two_lengths

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def strap(driver: Driver) -> Driver:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(20)
    return driver


def empty_place(driver: Driver, dx: float = 0.0) -> tuple[float, float]:
    """A place on the sheet where no curve is in reach."""
    camera = driver.view.sheet.camera
    x, y = camera.to_part((30.0 + dx, 30.0))
    assert driver.board.bench.derived.picker().nearest((x, y), 12.0 / camera.scale) is None
    return x, y


def test_undo_inside_a_chain(strap: Driver) -> None:
    before = write(strap.board.part)
    strap.view.setFocus()
    strap.keys("c")
    strap.click(*empty_place(strap))
    strap.click(*empty_place(strap, 60.0))
    strap.move(*empty_place(strap, 90.0))
    assert write(strap.board.part) != before
    strap.act("edit.undo")
    assert write(strap.board.part) == before
    strap.act("edit.redo")
    assert write(strap.board.part) != before


def test_a_piece_taken_back_inside_a_chain(strap: Driver) -> None:
    before = write(strap.board.part)
    strap.tool("outline")
    strap.click(*empty_place(strap))
    strap.click(*empty_place(strap, 60.0))
    assert write(strap.board.part) != before
    strap.key(Qt.Key.Key_Backspace)
    assert write(strap.board.part) == before


def test_undo_of_the_circle_that_a_grid_repeats(strap: Driver) -> None:
    before = write(strap.board.part)
    strap.tool("circle")
    strap.click(*empty_place(strap))
    strap.click(*empty_place(strap, 15.0))
    strap.tool("pick")
    strap.board.bench.select([list(strap.board.part.curves)[-1]])
    strap.tool("rows")
    strap.move(*empty_place(strap, 90.0))
    strap.act("edit.undo")
    assert write(strap.board.part) == before


def test_undo_of_the_line_that_a_ladder_counts_from(strap: Driver) -> None:
    before = write(strap.board.part)
    strap.tool("layout line")
    one, other = empty_place(strap), empty_place(strap, 80.0)
    strap.click(*one)
    strap.click(*other)
    strap.key(Qt.Key.Key_Escape)
    strap.tool("offset ladder")
    strap.click(0.5 * (one[0] + other[0]), one[1])
    strap.move(one[0], one[1] - 3.0)
    while strap.board.bench.history.can_undo:
        strap.act("edit.undo")
    assert write(strap.board.part) == before


def lengths_on_the_board(driver: Driver) -> tuple[str, str]:
    """Two lines that go on straight, each with a length; returns the two dimensions."""
    driver.board.load(two_lengths())
    driver.settle(20)
    a, b = (n for n, binding in driver.board.part.bindings.items() if binding.value)
    return a, b


def field_of(driver: Driver, binding: str, field: str) -> QLineEdit:
    """Open a cell of the ledger and return its field."""
    table, model = driver.window.ledger.table, driver.window.ledger.model
    index = model.index(model.row_of(binding), FIELDS.index(field))
    table.setCurrentIndex(index)
    table.setFocus()
    table.edit(index)
    driver.settle()
    return driver.app.focusWidget()


def test_two_lengths_that_reach_beyond_the_sheet(driver: Driver) -> None:
    one, other = lengths_on_the_board(driver)
    for name in (one, other):
        field = field_of(driver, name, "value")
        assert isinstance(field, QLineEdit)
        field.setText("9e8")
        driver.key(Qt.Key.Key_Return)
        driver.settle()
    assert driver.board.part.bindings[one].value == "9e8"
    assert driver.board.part.bindings[other].value == "20"
    assert driver.window.ledger.reason.isVisible()
    assert driver.window.ledger.reason.text()
    assert driver.app.focusWidget() is field  # it stays open with what was typed
    assert field.text() == "9e8"
    driver.key(Qt.Key.Key_Escape)


@pytest.fixture
def printed() -> Iterator[list[str]]:
    """What Qt would print on the console."""
    said: list[str] = []

    def hear(kind: object, context: object, text: str) -> None:
        if "This plugin does not support" not in text:  # the offscreen platform on itself
            said.append(text)

    known = qInstallMessageHandler(hear)
    yield said
    qInstallMessageHandler(known)


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Tab, Qt.Key.Key_F2])
def test_keys_in_every_cell_of_every_table_are_quiet(
    driver: Driver, printed: list[str], key: Qt.Key
) -> None:
    lengths_on_the_board(driver)
    ledger = driver.window.ledger
    before = write(driver.board.part)
    for table in (ledger.table, ledger.parameters, ledger.patterns):
        model = table.model()
        for row in range(model.rowCount()):
            for column in range(model.columnCount()):
                table.setFocus()
                table.setCurrentIndex(model.index(row, column))
                for each in (key, Qt.Key.Key_F2, key, key, Qt.Key.Key_Escape):
                    driver.key(each)
                driver.settle()
    assert write(driver.board.part) == before
    assert printed == []


def test_enter_where_the_expression_of_a_new_parameter_is_wanted(
    driver: Driver, printed: list[str]
) -> None:
    lengths_on_the_board(driver)
    table = driver.window.ledger.parameters
    table.setFocus()
    table.setCurrentIndex(table.model().index(0, 0))
    table.edit(table.model().index(0, 0))
    driver.keys("wall")
    driver.key(Qt.Key.Key_Return)
    driver.settle()
    field = driver.app.focusWidget()
    assert isinstance(field, QLineEdit)
    driver.key(Qt.Key.Key_Return)  # without a value
    driver.settle()
    assert printed == []
    field = driver.app.focusWidget()
    assert isinstance(field, QLineEdit)  # it is still asked for
    driver.keys("3")
    driver.key(Qt.Key.Key_Return)
    driver.settle()
    assert dict(driver.board.part.parameters) == {"wall": "3"}
    assert printed == []


def test_a_new_name_left_for_another_control(driver: Driver, printed: list[str]) -> None:
    lengths_on_the_board(driver)
    table = driver.window.ledger.parameters
    table.setFocus()
    table.setCurrentIndex(table.model().index(0, 0))
    table.edit(table.model().index(0, 0))
    driver.keys("wall")
    driver.view.setFocus()
    driver.settle()
    driver.view.setFocus()
    driver.settle()
    assert not driver.board.part.parameters
    assert printed == []


def test_a_form_stays_open_with_what_was_refused(driver: Driver) -> None:
    taken: list[dict[str, str]] = []

    def take(values: dict[str, str]) -> None:
        if values["size"] == "0":
            raise EditError("size", "is not above zero", "type a positive number")
        taken.append(values)

    form = FormDialog("Sizes", (("size", "Size", "0"),), "", driver.window, take)
    form.open()
    form.accept()
    driver.settle()
    assert form.isVisible()
    assert form.reason.isVisible()
    assert form.values() == {"size": "0"}
    form.edits["size"].setText("3")
    form.accept()
    driver.settle()
    assert not form.isVisible()
    assert taken == [{"size": "3"}]
    form.deleteLater()


def opened(driver: Driver, table: QTableView, row: int, column: int) -> QLineEdit:
    """Open a cell and return its field."""
    index = table.model().index(row, column)
    table.setFocus()
    table.setCurrentIndex(index)
    table.edit(index)
    driver.settle()
    field = driver.app.focusWidget()
    assert isinstance(field, QLineEdit)
    return field


@pytest.mark.parametrize("leave", ["focus", "press", "backtab", "tab"])
def test_fields_left_in_any_way_are_quiet(
    driver: Driver, printed: list[str], leave: str
) -> None:
    one, _ = lengths_on_the_board(driver)
    ledger = driver.window.ledger

    def left() -> None:
        if leave == "focus":
            driver.view.setFocus()
        elif leave == "press":
            table = ledger.parameters
            at = table.visualRect(table.model().index(0, 0)).center()
            QTest.mouseDClick(table.viewport(), Qt.MouseButton.LeftButton, pos=at)
            driver.view.setFocus()
        else:
            driver.key(Qt.Key.Key_Backtab if leave == "backtab" else Qt.Key.Key_Tab)
        driver.settle()

    for row, column, text in ((0, 0, "gap = 4"), (0, 1, "6"), (0, 0, "slit"), (1, 0, "wall"),
                              (0, 0, "2x")):
        opened(driver, ledger.parameters, row, column).setText(text)
        left()
        driver.key(Qt.Key.Key_Escape)
    for field, text in (("id", "nose"), ("value", "12"), ("tolerance", "0.1")):
        name = one if one in driver.board.part.bindings else "nose"
        cell = opened(driver, ledger.table, ledger.model.row_of(name), FIELDS.index(field))
        cell.setText(text)
        left()
    assert dict(driver.board.part.parameters) == {"slit": "6"}
    assert driver.board.part.bindings["nose"].value == "12"
    assert driver.board.part.bindings["nose"].tolerance == (0.1, -0.1)
    assert printed == []
