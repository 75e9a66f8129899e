"""The main path without the mouse: new part, half, mirror, a value changed, saved and judged."""

from __future__ import annotations

from math import pi
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from sketcher.desk.panes.ledger_model import FIELDS
from sketcher.part.store import load
from sketcher.solve import solve
from tests.gui.driver import Driver
from tests.inspected import inspected

pytestmark = pytest.mark.e2e
CTRL = Qt.KeyboardModifier.ControlModifier


def typed(driver: Driver, text: str) -> None:
    """Keys as they come, to whatever has the keyboard."""
    for letter in text:
        if letter in "\t\n":
            driver.key(Qt.Key.Key_Tab if letter == "\t" else Qt.Key.Key_Return)
        else:
            driver.keys(letter)


def reach(driver: Driver, pane: object) -> None:
    """Go round the panes with F6 until one has the keyboard."""
    for _ in range(8):
        if pane.isAncestorOf(driver.app.focusWidget()):
            return
        driver.window.rounds.onward()
    raise AssertionError("F6 does not lead there")


def test_a_part_is_made_mirrored_changed_and_saved(driver: Driver, tmp_path: Path) -> None:
    QTest.keyClick(driver.window.start.new_mm, Qt.Key.Key_Space)
    driver.settle(5)
    typed(driver, "x" "0\t0\n" "100\t0\n")
    driver.key(Qt.Key.Key_Escape)
    typed(driver, "c" "0\t0\n" "\t\t0\t20\n" "\t\t60\t20\n" " " "\t\t80\t0\n")
    driver.key(Qt.Key.Key_Escape)
    typed(driver, "m")
    driver.key(Qt.Key.Key_Right)  # the pointer stands on the axis
    typed(driver, "\n\n")
    assert driver.board.report.state == "bound"
    assert driver.board.bench.derived.inspection().verdict == "Sound"

    # The straight edge becomes 70 long: the ledger by keys, the arc keeps its radius of 20.
    ledger = driver.window.ledger
    for old, new in (("80", "90"), ("60", "70")):
        reach(driver, ledger)
        ledger.table.setFocus(Qt.FocusReason.TabFocusReason)
        row = ledger.model.row_of(next(each.id for each in ledger.model.rows if each.value == old))
        ledger.table.setCurrentIndex(ledger.model.index(row, FIELDS.index("value")))
        driver.key(Qt.Key.Key_F2)
        field = driver.app.focusWidget()
        assert isinstance(field, QLineEdit)
        field.selectAll()
        typed(driver, f"{new}\n")
        driver.settle(5)
    reach(driver, driver.view)
    driver.answers.path = tmp_path / "plate.profile.json"
    driver.key(Qt.Key.Key_S, CTRL)
    driver.settle(5)
    part = load(driver.answers.path)
    found = inspected(solve(part).part)
    assert (found.verdict, solve(part).report.freedoms) == ("Sound", 0)
    # Two rectangles 70 by 20 and half a circle of radius 20.
    assert found.profile.area == pytest.approx(2800.0 + 200.0 * pi, rel=1e-9)
    while driver.board.bench.history.can_undo:
        driver.key(Qt.Key.Key_Z, CTRL)
    assert driver.board.part.curves == {}
