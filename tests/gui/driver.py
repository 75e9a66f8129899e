"""Drives the window as a person does: through the viewport and the keyboard."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

NONE = Qt.KeyboardModifier.NoModifier
LEFT = Qt.MouseButton.LeftButton


def wait_until(ready: Callable[[], bool], seconds: float = 60.0) -> None:
    """Let the window go on until something is so; a loaded machine may take its time."""
    end = time.monotonic() + seconds
    while not ready():
        assert time.monotonic() < end, "it never came to be"
        QTest.qWait(5)


class Answers:
    """Stands in for the dialogs: what the person would answer, by question."""

    def __init__(self) -> None:
        self.path: Path | None = None
        self.folder: Path | None = None
        self.choice: str | None = None
        self.form: dict[str, str] | None = None
        self.sure = True
        self.unsaved = "discard"
        self.told: list[str] = []
        self.cut: dict[str, str] = {}
        self.cuts = 0

    def cut_so(self, despite: object, take: Callable[[dict[str, str]], object]) -> bool:
        self.cuts += 1
        return bool(take(self.cut))

    def into(self, host: Any) -> None:
        host.ask_path = lambda *a, **k: self.path
        host.ask_folder = lambda *a, **k: self.folder
        host.ask_choice = lambda *a, **k: self.choice
        host.ask_form = lambda *a, **k: self.form
        host.confirm = lambda *a, **k: self.sure
        host.ask_despite = lambda *a, **k: self.sure
        host.ask_cutting = self.cut_so
        host.ask_unsaved = lambda *a, **k: self.unsaved
        host.tell = lambda title, text: self.told.append(text)


class Driver:
    """A window and the hands on it; places are in part units."""

    def __init__(self, window: Any, app: QApplication) -> None:
        self.window = window
        self.app = app
        self.board = window.board
        self.view = window.view
        self.answers = Answers()
        self.answers.into(window.host)

    def new(self, unit: str = "mm") -> None:
        button = self.window.start.new_mm if unit == "mm" else self.window.start.new_in
        QTest.mouseClick(button, LEFT)
        self.settle()
        assert self.view.isVisible()

    def pixel(self, x: float, y: float) -> QPoint:
        px, py = self.view.sheet.camera.to_screen((x, y))
        return QPointF(px, py).toPoint()

    def move(
        self, x: float, y: float, held: Qt.KeyboardModifier = NONE,
        button: Qt.MouseButton = Qt.MouseButton.NoButton,
    ) -> None:
        """Move the pointer; sent to the viewport, for an X server would bring it at some time."""
        port, at = self.view.viewport(), self.pixel(x, y)
        QApplication.sendEvent(port, QMouseEvent(
            QEvent.Type.MouseMove, QPointF(at), QPointF(port.mapToGlobal(at)),
            Qt.MouseButton.NoButton, button, held,
        ))
        self.app.processEvents()

    def click(self, x: float, y: float, held: Qt.KeyboardModifier = NONE) -> None:
        self.move(x, y, held)
        QTest.mouseClick(self.view.viewport(), LEFT, held, self.pixel(x, y))
        self.app.processEvents()

    def double(self, x: float, y: float) -> None:
        """Press twice: a press, and what the system makes of another one right after it."""
        self.click(x, y)
        QTest.mouseDClick(self.view.viewport(), LEFT, NONE, self.pixel(x, y))
        self.app.processEvents()

    def drag(self, a: tuple[float, float], b: tuple[float, float]) -> None:
        port = self.view.viewport()
        QTest.mousePress(port, LEFT, NONE, self.pixel(*a))
        for t in (0.3, 0.6, 1.0):
            at = (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))
            self.move(*at, button=LEFT)
        QTest.mouseRelease(port, LEFT, NONE, self.pixel(*b))
        self.app.processEvents()

    def keys(self, text: str) -> None:
        """Type into whatever has the keyboard."""
        QTest.keyClicks(self.target(), text)
        self.app.processEvents()

    def key(self, key: Qt.Key, held: Qt.KeyboardModifier = NONE) -> None:
        QTest.keyClick(self.target(), key, held)
        self.app.processEvents()

    def target(self) -> Any:
        return QApplication.focusWidget() or self.view

    def typed(self, text: str) -> None:
        """Type a value into the readout and hold it."""
        self.view.setFocus()
        QTest.keyClicks(self.view, text)
        QTest.keyClick(self.view, Qt.Key.Key_Return)
        self.app.processEvents()

    def tool(self, name: str) -> None:
        self.window.commands.made[f"tool.{name}"].trigger()
        self.app.processEvents()

    def act(self, name: str) -> None:
        made = self.window.commands.made[name]
        assert made.isEnabled(), name
        made.trigger()
        self.app.processEvents()

    def settle(self, milliseconds: int = 0) -> None:
        self.app.processEvents()
        QTest.qWait(milliseconds or 1)
        self.app.processEvents()

    def close(self) -> None:
        self.answers.unsaved = "discard"
        self.window.close()
        self.window.shut()
        self.window.deleteLater()
        self.app.processEvents()
