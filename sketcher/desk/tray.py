"""A tray of tools that keeps all of them in reach: without their words where there is no room."""

from __future__ import annotations

import sys

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QAction, QResizeEvent
from PySide6.QtWidgets import QToolBar, QToolButton, QWidget

from sketcher.desk.rack import SIDE

AIR = 12
"""Pixels around a word on its button, frame included."""


class Tray(QToolBar):
    """A tool bar with a word below each drawing while the window is wide enough for the words."""

    def __init__(self, title: str, parent: QWidget) -> None:
        super().__init__(title, parent)
        self.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextUnderIcon)
        self.setIconSize(QSize(SIDE, SIDE))
        self.setMovable(False)

    def stock(self, tool: QAction) -> QToolButton:
        """Put a tool at the end and return its button."""
        self.addAction(tool)
        button = self.widgetForAction(tool)
        assert isinstance(button, QToolButton)
        return button

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave the words away where they do not fit; an error is reported and stays here."""
        super().resizeEvent(event)
        try:
            self._settle(event.size().width())
        except Exception:  # noqa: BLE001 - an exception that leaves an override can end the process
            sys.excepthook(*sys.exc_info())

    def _settle(self, width: int) -> None:
        styles = Qt.ToolButtonStyle
        fits = self.width_with_words() <= width
        style = styles.ToolButtonTextUnderIcon if fits else styles.ToolButtonIconOnly
        if style != self.toolButtonStyle():
            self.setToolButtonStyle(style)

    def width_with_words(self) -> int:
        """Return the pixels that drawings with words would take."""
        metrics, least = self.fontMetrics(), self.iconSize().width()
        return sum(max(least, metrics.horizontalAdvance(action.iconText())) + AIR
                   for action in self.actions())
