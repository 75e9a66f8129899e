"""A field laid over the sheet to edit a dimension where it stands."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QPointF, Qt, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLabel, QLineEdit, QVBoxLayout, QWidget


class InPlace(QWidget):
    """One field and a line for the reason why an input is refused.

    `submit` takes the text and returns an empty text, or the reason why not.
    """

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.ground = parent
        self.submit: Callable[[str], str] | None = None
        stack = QVBoxLayout(self)
        stack.setContentsMargins(2, 2, 2, 2)
        stack.setSpacing(1)
        self.setAutoFillBackground(True)
        self.field = QLineEdit(self)
        self.field.setAccessibleName("Value of the dimension")
        self.reason = QLabel("", self)
        self.reason.setObjectName("reason")
        self.reason.setWordWrap(True)
        self.reason.hide()
        stack.addWidget(self.field)
        stack.addWidget(self.reason)
        self.field.returnPressed.connect(self._commit)
        self.field.installEventFilter(self)
        self.hide()

    def open_at(self, at: QPointF, text: str, submit: Callable[[str], str]) -> None:
        """Show the field around a pixel of the parent with a text to change."""
        self.submit = submit
        self.reason.hide()
        self._mark(False)
        self.field.setText(text)
        self.field.setMinimumWidth(self.field.fontMetrics().horizontalAdvance("0" * 12))
        self.show()
        self._place(at)
        self.field.setFocus()
        self.field.selectAll()

    def _place(self, at: QPointF) -> None:
        self.adjustSize()
        room = self.ground.rect()
        x = min(max(int(at.x()) - self.width() // 2, 0), max(0, room.width() - self.width()))
        y = min(max(int(at.y()) - self.height() // 2, 0), max(0, room.height() - self.height()))
        self.move(x, y)
        self._at = at

    @Slot()
    def _commit(self) -> None:
        if self.submit is None:
            return
        why = self.submit(self.field.text())
        self._mark(bool(why))
        if why:
            self.reason.setText(why)
            self.reason.setMinimumWidth(200)
            self.reason.show()
            self._place(self._at)
        else:
            self.close_field()

    def close_field(self) -> None:
        """Hide the field and hand the keyboard back to the sheet."""
        self.submit = None
        self.hide()
        self.ground.setFocus()

    def _mark(self, wrong: bool) -> None:
        self.field.setProperty("wrong", "true" if wrong else "false")
        self.field.style().unpolish(self.field)
        self.field.style().polish(self.field)

    def eventFilter(self, watched: object, event: QEvent) -> bool:
        """Leave with Escape, or when the keyboard goes elsewhere."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            if event.key() == Qt.Key.Key_Escape:
                self.close_field()
                return True
        elif event.type() == QEvent.Type.FocusOut and self.isVisible() and not self.reason.text():
            self.hide()
        return False
