"""The hands of `tests.hands` on the real window: mouse on the viewport, keys on the sheet."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from sketcher.board.action_table import all_actions
from tests.gui.driver import LEFT, NONE, Driver
from tests.hands import XY, between

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

    def click(self, *places: XY) -> None:
        for at in places:
            self.clicks += 1
            self.driver.click(*at)

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
        held = Qt.KeyboardModifier.ShiftModifier if "Shift" in keys else NONE
        QTest.keyClick(view, keys[-1].upper() if held else keys[-1].lower(), held)
        self.driver.app.processEvents()
        assert self.board.tool.name == name

    def type(self, text: str) -> None:
        view = self.driver.view
        view.setFocus()
        for letter in text:
            self.keys += 1
            if letter == "\n":
                QTest.keyClick(view, Qt.Key.Key_Return)
            elif letter == "\t":
                QTest.keyClick(view, Qt.Key.Key_Tab)
            else:
                QTest.keyClick(view, letter)
            self.driver.app.processEvents()

    def press(self, key: str) -> None:
        self.keys += 1
        self.driver.view.setFocus()
        QTest.keyClick(self.driver.view, NAMED.get(key, key))
        self.driver.app.processEvents()
