"""A few lines of words that wrap; more are scrolled, so that they take no room from others."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, QTimer, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QSizePolicy, QWidget

LINES = 6
"""Lines that are to be seen at once."""
AIR = 4


class WordsRoom(QScrollArea):
    """Shows words; hidden while there are none.

    Parameters
    ----------
    name : str
        For those who cannot see it.
    parent : QWidget
    """

    def __init__(self, name: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.label = QLabel("", self)
        self.label.setAccessibleName(name)
        self.label.setWordWrap(True)
        self.label.setMargin(AIR)
        self.label.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.label.setTextInteractionFlags(Qt.TextInteractionFlag.NoTextInteraction)
        self.setAccessibleName(f"{name}, scrolled")
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setWidget(self.label)
        self.label.setAutoFillBackground(False)
        self.viewport().setAutoFillBackground(False)
        self.hide()

    def say(self, text: str) -> None:
        """Show words; nothing hides it."""
        if text == self.label.text():
            return
        self.label.setText(text)
        self.setVisible(bool(text))
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus if text else Qt.FocusPolicy.NoFocus)
        self.verticalScrollBar().setValue(0)
        self._fit()

    def sizeHint(self) -> QSize:
        """Ask for the height of the words, up to some lines."""
        return QSize(200, self._high())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Take as much height as the words need at the new width."""
        super().resizeEvent(event)
        if event.oldSize().width() != event.size().width():
            QTimer.singleShot(0, self, self._fit)

    def _high(self) -> int:
        row = self.label.fontMetrics().lineSpacing()
        wide = max(60, self.viewport().width())
        return min(self.label.heightForWidth(wide), LINES * row + 2 * AIR) + 2 * self.frameWidth()

    @Slot()
    def _fit(self) -> None:
        if self.height() != self._high():
            self.setFixedHeight(self._high())
