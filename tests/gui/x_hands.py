"""The hands of `tests.hands` with the X server's own pointer and keys on the real window.

Nothing is sent to the window: each press and key goes through the server, as a person's does, and
the hands wait until the window has had it.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import time
from collections.abc import Callable, Iterable
from math import dist

import pytest
from PySide6.QtCore import QEvent, QObject
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from sketcher.board.action_table import all_actions
from tests.gui.driver import Driver
from tests.hands import XY, between

PATIENCE = 15.0
NAMED = {"enter": "Return", "escape": "Escape", "backspace": "BackSpace", "tab": "Tab",
         "\n": "Return", "\t": "Tab", ".": "period", ",": "comma", "-": "minus", "/": "slash",
         "+": "plus",
         " ": "space", "'": "apostrophe", '"': "quotedbl", ":": "colon"}

UNDER_X = [
    pytest.mark.e2e,
    pytest.mark.slow,
    pytest.mark.skipif(
        not os.environ.get("DISPLAY") or os.environ.get("QT_QPA_PLATFORM") != "xcb"
        or shutil.which("xdotool") is None,
        reason="needs an X server, QT_QPA_PLATFORM=xcb and xdotool; see .ci/under-x",
    ),
]
"""Marks of each test that needs an X server of its own."""


class Arrivals(QObject):
    """Counts the events of the server that have reached the program."""

    def __init__(self, app: QApplication) -> None:
        super().__init__()
        self.keys = self.presses = self.releases = 0
        app.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Count what comes from outside to a window; Qt hands it on to widgets itself."""
        if event.spontaneous() and watched.isWindowType():
            kind = event.type()
            self.keys += kind == QEvent.Type.KeyPress
            self.presses += kind == QEvent.Type.MouseButtonPress
            self.releases += kind == QEvent.Type.MouseButtonRelease
        return False


class XHands:
    """Draws as a person does; what is asked of the board is only what it shows.

    Parameters
    ----------
    driver : Driver
        The window; it must be the only one with the keyboard.
    """

    def __init__(self, driver: Driver) -> None:
        self.driver = driver
        self.board = driver.board
        self.clicks = self.keys = 0
        self.arrived = Arrivals(driver.app)
        driver.window.activateWindow()
        self._until("the window in front", driver.window.isActiveWindow)
        driver.view.setFocus()

    def _until(self, what: str, ready: Callable[[], bool]) -> None:
        end = time.monotonic() + PATIENCE
        while not ready():
            assert time.monotonic() < end, f"waited {PATIENCE:g} s for {what}"
            QTest.qWait(2)
        self.driver.app.processEvents()

    def _key(self, chord: str) -> None:
        """Press one key, or one with others held; each that goes down is one key."""
        before = self.arrived.keys
        names = chord.split("+") if len(chord) > 1 else [chord]
        self.keys += len(names)
        xdotool("key", "--clearmodifiers", "+".join(NAMED.get(name, name) for name in names))
        # The last key of a shortcut is taken before it counts as pressed.
        least = before + max(len(names) - 1, 1)
        self._until(f"the key {chord}", lambda: self.arrived.keys >= least)
        QTest.qWait(5)

    def point(self, at: XY) -> None:
        view = self.driver.view
        place = view.viewport().mapToGlobal(self.driver.pixel(*at))
        xdotool("mousemove", place.x(), place.y())
        near = 1.5 / view.sheet.camera.scale
        self._until(f"the pointer at {at}", lambda: self.board.pointer is not None
                    and dist(self.board.pointer.at, at) <= near)

    def _button(self, step: str, what: str) -> None:
        before = getattr(self.arrived, what)
        xdotool(step, 1)
        self._until(f"the button's {step}", lambda: getattr(self.arrived, what) > before)

    def click(self, *places: XY, keys: Iterable[str] = ()) -> None:
        for at in places:
            self.clicks += 1
            self.point(at)
            for key in keys:
                self.keys += 1
                xdotool("keydown", key)
            self._button("mousedown", "presses")
            self._button("mouseup", "releases")
            for key in keys:
                xdotool("keyup", key)

    def double(self, at: XY) -> None:
        self.click(at, at)

    def sweep(self, *places: XY, keys: Iterable[str] = ()) -> None:
        self.clicks += 1
        self.point(places[0])
        self._button("mousedown", "presses")
        for at in between(places, 6):
            self.point(at)
        self._button("mouseup", "releases")

    def tool(self, name: str) -> None:
        self._key(all_actions()[f"tool.{name}"].keys[0].lower())
        self._until(f"the tool {name}", lambda: self.board.tool.name == name)

    def type(self, text: str) -> None:
        for letter in text:
            self._key(letter)

    def press(self, key: str) -> None:
        self._key(key)

    def bind(self, kind: str) -> None:
        """Press the button of a kind beside the ledger."""
        button = self.driver.window.ledger.kinds.buttons[kind]
        place = button.mapToGlobal(button.rect().center())
        self.clicks += 1
        xdotool("mousemove", place.x(), place.y())
        self._button("mousedown", "presses")
        self._button("mouseup", "releases")


def xdotool(*words: object) -> None:
    """Let the X server do something."""
    subprocess.run(["xdotool", *map(str, words)], check=True, timeout=PATIENCE,
                   capture_output=True)
