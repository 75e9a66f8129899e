"""One rule for the keyboard in every pane beside the sheet: what nobody there needs is the sheet's.

A pane keeps what it cannot do without:

- a field that is typed into keeps every key;
- a cell that is typed into keeps the characters that begin a value, and Backspace;
- a table whose rows can be taken away keeps Delete while one is chosen, for that row; a row that is
  only lit because its curve is selected is not chosen;
- lists, tables and buttons keep arrows, Page Up and Page Down, Enter, Space and Tab;
- whoever shows something to copy keeps the key that copies.

All else is done as if the sheet had the keyboard: letters, Shift with a letter, digits, Delete,
Backspace, Home, Esc. The keyboard stays in the pane, so that one can go on there with arrows,
unless the key took up another tool or opened a row of the readout, or what had the keyboard is gone
with it: then it goes along to the sheet. So it does with Esc once nothing there can be left: no
tool, no selection, no place that a row led to.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QLineEdit,
    QPlainTextEdit,
    QTextEdit,
    QWidget,
)
from shiboken6 import isValid

from sketcher.desk import keys
from sketcher.desk.scene.scene_view import SceneView

FIELDS = (QLineEdit, QComboBox, QAbstractSpinBox, QPlainTextEdit, QTextEdit)
NAMED = ("escape", "delete", "backspace", "home")


class PaneKeys(QObject):
    """Hands keys to the sheet that come to a pane and that nothing in it needs.

    Parameters
    ----------
    view : SceneView
    panes : iterable of QWidget
        What is in them may say in `keeps_key(event)` what it needs itself.
    """

    def __init__(self, view: SceneView, panes: Iterable[QWidget]) -> None:
        super().__init__(view)
        self.view = view
        for pane in panes:
            pane.installEventFilter(self)  # sees what buttons and labels in it leave
            for rows in pane.findChildren(QAbstractItemView):  # these would leave nothing
                rows.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Hand a key over, and say that it is used."""
        if event.type() != QEvent.Type.KeyPress or not isinstance(event, QKeyEvent):
            return False
        try:
            if not means_sheet(event) or is_needed(event, QApplication.focusWidget()):
                return False
            self._hand_over(event)
        except Exception:  # noqa: BLE001 - an override only tells
            sys.excepthook(*sys.exc_info())
        return True

    def _hand_over(self, event: QKeyEvent) -> None:
        board = self.view.board
        tool, had = board.tool, QApplication.focusWidget()
        self.view.keyPressEvent(event)
        event.accept()
        gone = had is not None and not (isValid(had) and had.isVisible())
        if board.tool is not tool or board.typing.is_open or gone:
            self.view.setFocus()


def means_sheet(event: QKeyEvent) -> bool:
    """Tell whether a key has a meaning on the sheet that no list has a better one for."""
    if keys.held(event.modifiers()) & {"ctrl", "alt"}:
        return False
    return keys.is_typed(event) or keys.name_of(event) in NAMED


def is_needed(event: QKeyEvent, widget: QWidget | None) -> bool:
    """Tell whether the widget with the keyboard needs a key itself."""
    keeps = getattr(widget, "keeps_key", None)
    return isinstance(widget, FIELDS) or bool(keeps is not None and keeps(event))
