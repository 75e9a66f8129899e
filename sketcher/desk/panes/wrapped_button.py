"""A button whose words are never cut: they wrap, and the button grows."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import (
    QPushButton,
    QSizePolicy,
    QStyle,
    QStyleOptionButton,
    QStylePainter,
    QWidget,
)

AIR = 6
"""Pixels between the words and the button's edge."""
LEAST = 90
"""Pixels of width below which words would stand in a column of their own letters."""
WRAPS = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextWordWrap


class WrappedButton(QPushButton):
    """A push button with words of any length, over as many lines as the width asks for."""

    def __init__(self, text: str, parent: QWidget) -> None:
        super().__init__(text, parent)
        self.setAccessibleName(text)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def hasHeightForWidth(self) -> bool:
        """Say that the height follows from the width."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height in which all words stand."""
        room = QRect(0, 0, max(width - 2 * AIR, 1), 10_000)
        return self.fontMetrics().boundingRect(room, int(WRAPS), self.text()).height() + 2 * AIR

    def sizeHint(self) -> QSize:
        """Return the size that the words want over two lines."""
        wide = max(LEAST, self.fontMetrics().horizontalAdvance(self.text()) // 2 + 4 * AIR)
        return QSize(wide, self.heightForWidth(wide))

    def minimumSizeHint(self) -> QSize:
        """Return the least size; how high it must be follows from the width it gets."""
        return QSize(LEAST, self.fontMetrics().height() + 2 * AIR)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the button of the style, with words of our own in it."""
        option = QStyleOptionButton()
        self.initStyleOption(option)
        option.text = ""
        painter = QStylePainter(self)
        painter.drawControl(QStyle.ControlElement.CE_PushButton, option)
        self.style().drawItemText(
            painter, self.rect().adjusted(AIR, AIR, -AIR, -AIR), int(WRAPS), self.palette(),
            self.isEnabled(), self.text(), self.foregroundRole(),
        )
