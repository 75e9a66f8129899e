"""In the window: a value that no drawing can have, and a reference that differs, are mended."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit

from sketcher.board.dimensions.desk_layout import states_of
from sketcher.desk.panes.ledger_model import FIELDS
from sketcher.part.store import load
from tests.demo_parts import SOUND
from tests.gui.driver import LEFT, Driver, wait_until

SHELF = next(path for path in SOUND if "shelf" in path.name)


def typed(driver: Driver, name: str, text: str) -> None:
    """Type a value into a row of the ledger."""
    ledger = driver.window.ledger
    row = ledger.model.row_of(name)
    assert row is not None
    index = ledger.model.index(row, FIELDS.index("value"))
    ledger.table.setFocus()
    ledger.table.setCurrentIndex(index)
    ledger.table.edit(index)
    driver.settle(5)
    field = QApplication.focusWidget()
    assert isinstance(field, QLineEdit)
    field.selectAll()
    QTest.keyClicks(field, text)
    QTest.keyClick(field, Qt.Key.Key_Return)
    driver.settle(20)


@pytest.fixture
def shelf(driver: Driver) -> Driver:
    driver.board.load(load(SHELF))
    driver.settle(20)
    return driver


@pytest.mark.e2e
def test_a_value_that_cannot_be_had_is_set_to_the_most_that_holds(shelf: Driver) -> None:
    typed(shelf, "b13", "4")
    bar = shelf.window.ledger.mending
    wait_until(bar.isVisible)
    assert bar.words == "b13 cannot be 4 here."
    texts = [button.text() for button in bar.buttons]
    assert texts[0].startswith("Set b13 back to 3/4")
    assert texts[1].startswith("Set b13 to 2 7/64, the most that holds with b9, b10, b18 and b19")
    assert texts[2].startswith("Make b13 ")
    row = next(r for r in shelf.window.ledger.model.rows if r.id == "b13")
    assert row.state == "clashing"  # painted in the colour of what is bad
    assert states_of(shelf.board.part, shelf.board.report)["b13"] == "clashing"
    wait_until(lambda: shelf.window.inspection.verdict.text() == "1 finding")
    findings = shelf.window.inspection.tables["findings"].rows.section
    assert "at most 2 7/64 holds" in findings.entries[0].cells[1].text
    QTest.mouseClick(bar.buttons[1], LEFT)
    shelf.settle(20)
    assert shelf.board.part.bindings["b13"].value == "2 7/64"
    assert shelf.board.report.state == "bound"
    assert not bar.isVisible()


@pytest.mark.e2e
def test_a_reference_that_differs_takes_the_measured_value(shelf: Driver) -> None:
    typed(shelf, "b26", "4.9")
    bar = shelf.window.ledger.mending
    wait_until(bar.isVisible)
    assert [b.text().partition(":")[0] for b in bar.buttons] == [
        "Take the measured value, 5", "Make it drive"]
    QTest.mouseClick(bar.buttons[0], LEFT)
    shelf.settle(20)
    assert shelf.board.part.bindings["b26"].follows
    wait_until(lambda: "Sound" in shelf.window.inspection.verdict.text())
    assert not bar.isVisible()
