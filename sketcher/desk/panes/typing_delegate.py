"""A table's field that stays open and says why, when what was typed cannot be."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import (
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    QTimer,
    Signal,
    Slot,
)
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QLineEdit,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QToolTip,
    QWidget,
)
from shiboken6 import isValid

Index = QModelIndex | QPersistentModelIndex


AROUND = 14
"""Pixels of a field beside its text: frame, padding, the margins of Qt and the cursor."""


class TypingDelegate(QStyledItemDelegate):
    """Asks `submit(index, text)` for the reason why a text is refused before it closes the field.

    Signals
    -------
    refused(str)
        Why, or an empty text once an input was taken.
    entered()
        An input was taken with Enter or Tab, and its field is closed: the next one may open.
    returned()
        A field that the keyboard was lent to is closed by a key, with an input or without one.
    """

    refused = Signal(str)
    entered = Signal()
    returned = Signal()

    def __init__(self, submit: Callable[[Index, str], str], parent: QObject) -> None:
        super().__init__(parent)
        self.submit = submit
        self._index: Index | None = None
        self._lent = False

    def lend(self) -> None:
        """Lend the keyboard to the open field: it has opened by itself, nobody went to it."""
        self._lent = True

    def createEditor(
        self, parent: QWidget, option: QStyleOptionViewItem, index: Index
    ) -> QWidget:
        """Make the field."""
        field = QLineEdit(parent)
        field.setFrame(False)
        title = index.model().headerData(index.column(), Qt.Orientation.Horizontal)
        field.setAccessibleName(str(title))
        field.textChanged.connect(self._widen)
        self._index, self._lent = index, False
        return field

    def updateEditorGeometry(
        self, editor: QWidget, option: QStyleOptionViewItem, index: Index
    ) -> None:
        """Put the field over its cell, and over those beside it where its text needs more."""
        super().updateEditorGeometry(editor, option, index)
        if isinstance(editor, QLineEdit):
            widen(editor)

    @Slot()
    def _widen(self) -> None:
        field = self.sender()
        if isinstance(field, QLineEdit):
            widen(field)

    def setModelData(self, editor: QWidget, model: object, index: Index) -> None:
        """Take the text when the field closes by leaving it; a refused one changes nothing.

        In an event of its own: a step that is waited for lets the window go on, the field is
        deleted meanwhile, and Qt, which is about to close it, would close what is not there.
        """
        if isinstance(editor, QLineEdit) and editor.property("taken") is not True:
            QTimer.singleShot(0, self, partial(self._left, QPersistentModelIndex(index),
                                               editor.text()))

    def _left(self, index: QPersistentModelIndex, text: str) -> None:
        if index.isValid():
            self.refused.emit(self.submit(index, text))

    def eventFilter(self, editor: QObject, event: QEvent) -> bool:
        """Keep the field open while its text is refused."""
        keys = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Tab, Qt.Key.Key_Backtab)
        if (
            isinstance(editor, QLineEdit) and isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.KeyPress and event.key() in keys
            and self._index is not None and self._index.isValid()
        ):
            return self._entered(editor)
        used = super().eventFilter(editor, event)
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress \
                and event.key() == Qt.Key.Key_Escape:
            self._return()
        return used

    def _return(self) -> None:
        lent, self._lent = self._lent, False
        if lent:
            self.returned.emit()

    def _entered(self, editor: QLineEdit) -> bool:
        assert self._index is not None
        why = self.submit(self._index, editor.text())
        if not isValid(editor):  # deleted while the step was waited for
            self.refused.emit(why)
            self._return()
            return True
        editor.setProperty("wrong", "true" if why else "false")
        editor.style().unpolish(editor)
        editor.style().polish(editor)
        if why:
            self.refused.emit(why)
            editor.setToolTip(why)
            QToolTip.showText(editor.mapToGlobal(editor.rect().bottomLeft()), why, editor)
            return True
        editor.setProperty("taken", True)
        self.closeEditor.emit(editor, QStyledItemDelegate.EndEditHint.NoHint)
        self.refused.emit("")
        self.entered.emit()
        self._return()
        return True


def widen(field: QLineEdit) -> None:
    """Make a field as wide as its text, to the right while there is room, then to the left."""
    ground, own = field.parentWidget(), field.geometry()
    room = ground.width() if ground is not None else own.width()
    wide = field.fontMetrics().horizontalAdvance(field.text()) + AROUND
    if wide > own.width():
        own.setWidth(min(wide, max(room, own.width())))
        own.moveLeft(max(0, min(own.left(), room - own.width())))
        field.setGeometry(own)
