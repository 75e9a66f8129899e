"""The window's frame: it shows the start page at once, and the desk as soon as that is there.

The desk needs more than a hundred modules; a person sees the first page before they are read.
"""

from __future__ import annotations

import sys
from collections.abc import Callable

from PySide6.QtCore import QElapsedTimer, QEventLoop, QSize
from PySide6.QtGui import QCloseEvent, QPaintEvent
from PySide6.QtWidgets import QApplication, QMainWindow

from sketcher.board.files.last_seen import LastSeen
from sketcher.desk.panes.start_page import StartPage
from sketcher.desk.window_memory import WindowMemory

PROGRAM = "Part profile sketcher"  # in the title of its window alone, not of every dialog
ROOMY = 1500  # pixels of a screen on which the window need not take all
PATIENCE = 400  # milliseconds to wait for the first paint where the screen does not ask for one


class WindowFrame(QMainWindow):
    """Holds the start page, then the desk; asks the desk before it closes."""

    def __init__(
        self, recent: tuple[str, ...], pinned: tuple[str, ...] = (),
        memory: WindowMemory = WindowMemory(),  # noqa: B008 - frozen
        last: LastSeen | None = None,
    ) -> None:
        super().__init__()
        self.memory = memory
        self.painted = False
        self.may_close: Callable[[], bool] | None = None
        self.page = StartPage(self, recent, pinned)
        if last is not None:
            self.page.offer_last(last.name, last.path)
        self.setCentralWidget(self.page)
        self.setWindowTitle(PROGRAM)
        self.known = memory.put(self)
        if not self.known:
            self.resize(first_size(self.screen().availableGeometry().size()))

    def unfold(self) -> None:
        """Show the window and wait for its first paint; a small screen is at first taken whole."""
        roomy = self.screen().availableGeometry().width() > ROOMY
        if (self.known and not self.memory.maximized) or (not self.known and roomy):
            self.show()
        else:
            self.showMaximized()
        clock = QElapsedTimer()
        clock.start()
        while not self.painted and clock.elapsed() < PATIENCE:
            QApplication.processEvents(QEventLoop.ProcessEventsFlag.ExcludeUserInputEvents, 20)

    def take(self, desk: QMainWindow, may_close: Callable[[], bool]) -> None:
        """Put the desk in the place of the page."""
        self.may_close = may_close
        self.setCentralWidget(desk)
        desk.show()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Note the first paint."""
        super().paintEvent(event)
        self.painted = True

    def closeEvent(self, event: QCloseEvent) -> None:
        """Close when the desk lets go."""
        try:
            event.setAccepted(self.may_close is None or self.may_close())
        except Exception:  # noqa: BLE001 - work must not be lost to an error on the way out
            event.ignore()
            sys.excepthook(*sys.exc_info())


def first_size(room: QSize) -> QSize:
    """Return the window's size on a screen before a person changes it."""
    if room.width() > ROOMY:
        return QSize(int(room.width() * 0.85), int(room.height() * 0.85))
    return QSize(min(1366, room.width()), min(768, room.height()))
