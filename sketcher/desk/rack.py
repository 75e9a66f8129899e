"""The rack of shape tools beside the sheet: all in sight, in as many columns as it takes."""

from __future__ import annotations

import sys

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QAction, QResizeEvent
from PySide6.QtWidgets import QGridLayout, QToolButton, QWidget

SIDE = 22
"""Pixels of a drawing's side; the drawings are made for it."""
AIR = 10
"""Pixels around a drawing on its button, frame included, and between two buttons."""
ROOMY = 1700
"""Pixels of the window's width from which words stand beside the drawings: the sheet keeps more
than half of it (tried at 1,366, 1,600, 1,700 and 1,920)."""


class Rack(QWidget):
    """Buttons one below the other: with words where there is room, else in one column or more."""

    def __init__(self, title: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(2, 2, 2, 2)
        self._grid.setSpacing(1)
        self._buttons: dict[QAction, QToolButton] = {}
        self._form: tuple[int, bool] = (0, False)

    def stock(self, tool: QAction) -> QToolButton:
        """Put a tool at the end and return its button."""
        button = QToolButton(self)
        button.setDefaultAction(tool)
        button.setIconSize(QSize(SIDE, SIDE))
        self.addAction(tool)
        self._buttons[tool] = button
        return button

    def widgetForAction(self, tool: QAction) -> QToolButton:
        """Return the button of a tool."""
        return self._buttons[tool]

    def minimumSizeHint(self) -> QSize:
        """Ask for width alone: with less height there are more columns."""
        return QSize(super().minimumSizeHint().width(), SIDE + AIR)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Arrange the buttons for the height; an error is reported and stays here."""
        super().resizeEvent(event)
        try:
            self._settle(event.size().height())
        except Exception:  # noqa: BLE001 - an exception that leaves an override can end the process
            sys.excepthook(*sys.exc_info())

    def _settle(self, height: int) -> None:
        rows = max(1, height // (SIDE + AIR))
        columns = -(-len(self._buttons) // rows)
        form = (columns, columns == 1 and self.window().width() >= ROOMY)
        if form != self._form:
            self._form = form
            self._arrange(*form)

    def _arrange(self, columns: int, words: bool) -> None:
        styles, policies = Qt.ToolButtonStyle, Qt.AlignmentFlag
        style = styles.ToolButtonTextBesideIcon if words else styles.ToolButtonIconOnly
        rows = -(-len(self._buttons) // columns)
        for row in range(self._grid.rowCount()):
            self._grid.setRowStretch(row, 0)
        for place, button in enumerate(self._buttons.values()):
            button.setToolButtonStyle(style)
            button.setSizePolicy(button.sizePolicy().Policy.Expanding if words
                                 else button.sizePolicy().Policy.Fixed,
                                 button.sizePolicy().Policy.Fixed)
            self._grid.addWidget(button, place % rows, place // rows, policies.AlignTop)
        self._grid.setRowStretch(rows, 1)
