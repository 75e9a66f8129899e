"""While somebody waits for a job only looking is allowed: everything that would change is held."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

PASSES = "passes_gate"
"""Property of a widget that may be used while somebody waits: the button that stops, the sheet."""

HELD = frozenset({
    QEvent.Type.MouseButtonPress, QEvent.Type.MouseButtonRelease, QEvent.Type.MouseButtonDblClick,
    QEvent.Type.KeyPress, QEvent.Type.KeyRelease, QEvent.Type.Shortcut, QEvent.Type.ContextMenu,
    QEvent.Type.Wheel, QEvent.Type.DragEnter, QEvent.Type.Drop, QEvent.Type.TouchBegin,
    QEvent.Type.TouchEnd, QEvent.Type.InputMethod,
})
TOLD = frozenset({QEvent.Type.MouseButtonPress, QEvent.Type.KeyPress})


class Gate(QObject):
    """Looks at every event of the program while it is shut.

    Signals
    -------
    refused()
        Something was pressed or typed that has to wait.
    stopped()
        Escape was pressed.
    """

    refused = Signal()
    stopped = Signal()

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._shut: list[object] = []

    def shut(self, by: object) -> None:
        """Hold what would change something."""
        if not self._shut:
            self._watch(QCoreApplication.installEventFilter)
        self._shut.append(by)

    def open(self, by: object) -> None:
        """Let everything through again, when nobody else keeps the gate shut."""
        self._shut.remove(by)
        if not self._shut:
            self._watch(QCoreApplication.removeEventFilter)

    def _watch(self, change: Callable[[QCoreApplication, QObject], None]) -> None:
        app = QCoreApplication.instance()
        if app is not None:
            change(app, self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Swallow what would change something; Escape stops the job."""
        kind = event.type()
        if kind not in HELD:
            return False
        if kind == QEvent.Type.Shortcut:  # goes to an action, which is no widget
            self.refused.emit()
            return True
        if not isinstance(watched, QWidget):
            return False
        if isinstance(event, QKeyEvent) and event.key() == Qt.Key.Key_Escape:
            if kind == QEvent.Type.KeyPress:
                self.stopped.emit()
            return True
        if passes(watched):
            return False
        if kind in TOLD:
            self.refused.emit()
        return True


def passes(widget: QWidget | None) -> bool:
    """Tell whether a widget, or one that it lies in, may be used while somebody waits."""
    while widget is not None:
        if widget.property(PASSES):
            return True
        widget = widget.parentWidget()
    return False
