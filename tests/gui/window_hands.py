"""The hands of `tests.hands` on the real window: mouse on the viewport, keys on the sheet."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit

from sketcher.board.action_table import all_actions
from tests.gui.driver import LEFT, NONE, Driver
from tests.hands import XY, between

SHIFT = Qt.KeyboardModifier.ShiftModifier
HELD = {"Shift": SHIFT, "Ctrl": Qt.KeyboardModifier.ControlModifier}
NAMED = {"enter": Qt.Key.Key_Return, "escape": Qt.Key.Key_Escape,
         "backspace": Qt.Key.Key_Backspace, "tab": Qt.Key.Key_Tab,
         "backtab": Qt.Key.Key_Backtab, "space": Qt.Key.Key_Space}


class WindowHands:
    """Draws as a person does; nothing is asked of the board but what it shows."""

    def __init__(self, driver: Driver) -> None:
        self.driver = driver
        self.board = driver.board
        self.clicks = self.keys = 0

    def point(self, at: XY) -> None:
        self.driver.move(*at)

    def click(self, *places: XY, keys: Iterable[str] = ()) -> None:
        held = SHIFT if "shift" in keys else NONE
        for at in places:
            self.clicks += 1
            self.driver.click(*at, held)

    def double(self, at: XY) -> None:
        self.clicks += 2
        self.driver.double(*at)
        self.driver.app.processEvents()

    def sweep(self, *places: XY) -> None:
        self.clicks += 1
        port = self.driver.view.viewport()
        self.driver.move(*places[0])
        QTest.mousePress(port, LEFT, NONE, self.driver.pixel(*places[0]))
        for at in between(places):
            self.driver.move(*at, button=LEFT)
        QTest.mouseRelease(port, LEFT, NONE, self.driver.pixel(*places[-1]))
        self.driver.app.processEvents()

    def tool(self, name: str) -> None:
        keys = all_actions()[f"tool.{name}"].keys[0].split("+")
        self.keys += len(keys)
        view = self.driver.view
        view.setFocus()
        held = NONE
        for word in keys[:-1]:
            held |= HELD[word]
        QTest.keyClick(view, keys[-1].upper() if held else keys[-1].lower(), held)
        self.driver.app.processEvents()
        assert self.board.tool.name == name

    def type(self, text: str) -> None:
        """Type on the sheet, or into the field that a bound value has opened."""
        field = QApplication.focusWidget()
        if not isinstance(field, QLineEdit):
            field = self.driver.view
            field.setFocus()
        for letter in text:
            self.keys += 1
            if letter == "\n":
                QTest.keyClick(field, Qt.Key.Key_Return)
            elif letter == "\t":
                QTest.keyClick(field, Qt.Key.Key_Tab)
            else:
                QTest.keyClick(field, letter)
            self.driver.app.processEvents()

    def press(self, key: str) -> None:
        self.keys += 1
        self.driver.view.setFocus()
        QTest.keyClick(self.driver.view, NAMED.get(key, key))
        self.driver.app.processEvents()

    def bind(self, kind: str) -> None:
        """Press the button of a kind beside the ledger."""
        self.clicks += 1
        button = self.driver.window.ledger.kinds.buttons[kind]
        assert button.isEnabled(), kind
        QTest.mouseClick(button, LEFT)
        self.driver.app.processEvents()
