"""Below the verdict: the first thing to look at, in one line that opens its section."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QPushButton, QSizePolicy, QWidget

AIR = 8
"""Pixels that the words leave free."""


class WorstLine(QPushButton):
    """One line, cut to the room there is; hidden while there is nothing to say.

    Signals
    -------
    asked(int)
        The place of the section that it speaks of.
    """

    asked = Signal(int)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("worst")
        self.setFlat(True)
        self.setAutoDefault(False)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setAccessibleDescription("The first thing to look at; opens its section")
        self.words, self._place = "", 0
        self.clicked.connect(self._ask)
        self.hide()

    def tell(self, words: str, place: int = 0) -> None:
        """Show words that belong to a section; hide for none."""
        self.words, self._place = words, place
        self.setAccessibleName(words)
        self.setToolTip(words)
        self.setVisible(bool(words))
        self._fit()

    def minimumSizeHint(self) -> QSize:
        """Ask for a line and for no width: the words are cut."""
        return QSize(0, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Cut the words to the new width."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        room = max(self.width() - AIR, 0)
        self.setText(self.fontMetrics().elidedText(
            self.words, Qt.TextElideMode.ElideRight, room).replace("&", "&&"))

    @Slot()
    def _ask(self) -> None:
        self.asked.emit(self._place)
