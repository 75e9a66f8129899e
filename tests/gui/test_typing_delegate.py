"""A step that is waited for lets the window go on, and takes the field away that asked for it."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QEventLoop, Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit, QTableWidget, QTableWidgetItem
from shiboken6 import isValid

from sketcher.desk.panes.typing_delegate import TypingDelegate


@pytest.mark.parametrize("left", [False, True])
def test_a_field_that_is_deleted_while_its_step_is_waited_for(qtbot, left: bool) -> None:
    table, other = QTableWidget(2, 1), QLineEdit()
    for widget in (table, other):
        qtbot.addWidget(widget)
        widget.show()
    taken: list[str] = []
    told: list[str] = []
    returned: list[bool] = []

    def submit(index, text: str) -> str:
        taken.append(text)
        field.deleteLater()
        loop = QEventLoop()
        QTimer.singleShot(30, loop.quit)
        loop.exec()
        return ""

    delegate = TypingDelegate(submit, table)
    delegate.refused.connect(told.append)
    delegate.returned.connect(lambda: returned.append(True))
    table.setItemDelegate(delegate)
    table.setItem(0, 0, QTableWidgetItem("5"))
    table.editItem(table.item(0, 0))
    delegate.lend()
    field = table.findChild(QLineEdit)
    QTest.keyClicks(field, "42")
    if left:
        other.activateWindow()
        field.clearFocus()
        qtbot.waitUntil(lambda: bool(taken), timeout=5000)
    else:
        QTest.keyClick(field, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: bool(told), timeout=5000)
    assert (taken, told) == (["42"], [""])
    assert returned == ([] if left else [True])  # whoever leaves it has the keyboard elsewhere
    qtbot.waitUntil(lambda: not isValid(field), timeout=5000)
