"""Esc out of a menu: one press goes back to the sheet."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QMenuBar


class MenuEscape(QObject):
    """Lets Esc out of a menu leave the menu bar too, which else goes on taking what is typed.

    Parameters
    ----------
    bar : QMenuBar
        With all its menus.
    """

    def __init__(self, bar: QMenuBar) -> None:
        super().__init__(bar)
        self._bar = bar
        for action in bar.actions():
            menu = action.menu()
            if isinstance(menu, QObject):
                menu.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Send the bar the same key, once the menu has closed."""
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent) \
                and event.key() == Qt.Key.Key_Escape:
            QTimer.singleShot(0, self._leave)
        return False

    @Slot()
    def _leave(self) -> None:
        if QApplication.activePopupWidget() is None:
            QApplication.sendEvent(self._bar, QKeyEvent(
                QEvent.Type.KeyPress, Qt.Key.Key_Escape, Qt.KeyboardModifier.NoModifier))
