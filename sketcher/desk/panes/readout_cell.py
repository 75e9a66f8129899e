"""One value of the readout: its word, its digits, and a small key that lets a held value go."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtGui import QFont, QFontMetrics
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QToolButton, QVBoxLayout, QWidget

from sketcher.board.readout.row import LABELS, Row

TEACH = (
    "{label}. Press here or begin to type on the sheet: Enter takes the value, Tab holds it and "
    "goes on to the next row. What is held becomes a dimension.{further}"
)
FURTHER = {
    "angle": " Minutes and seconds as 30\N{DEGREE SIGN}15'00\" or 30:15:00.",
    "length": " 12.5 or 12,5; 3 1/2 or 3\N{VULGAR FRACTION ONE HALF}; sums and parameters.",
}
LET_GO = "Let {label} go: it follows the pointer again."
WIDEST = "-8888.888 mm"
BORDER, PADDING = 2, 6
KEY, NARROW_KEY = 24, 14
"""Pixels that the key that lets a value go is wide, also in the narrowest places; it is as high as
the word beside it, and Escape and a press on the digits do the same (WCAG 2.2, 2.5.8: 24 by 24, or
an equivalent control)."""
ROOMY = 80
"""Pixels of a place from which the key has its whole width beside the longest word."""


class Digits(QPushButton):
    """The digits; a press opens the row for typing.

    Signals
    -------
    opened(str)
        The row's name.
    """

    opened = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.row: Row | None = None
        self._digits = self.font()
        self.setAutoDefault(False)
        self.clicked.connect(self._open)

    def size_up(self, width: int, font: QFont) -> None:
        """Take a width and a font; the height follows from that."""
        self._digits = font
        self.setFont(font)
        self.setFixedSize(width, QFontMetrics(font).height() + 2 * BORDER + 2)

    @Slot()
    def _open(self) -> None:
        if self.row is not None and self.row.takes:
            self.opened.emit(self.row.name)

    def sleep(self) -> None:
        """Show no value: the stage does not ask for it."""
        self.row = None
        self.setText("")
        self.setEnabled(False)
        self._wear(held=False, lit=False)
        self.setAccessibleName("")
        self.setToolTip("")

    def show_row(self, row: Row, label: str, typed: str | None, lit: bool) -> None:
        """Show a row; `typed` is what is being typed into it with its caret, or None."""
        self.row = row
        self.setEnabled(True)
        gap = "" if row.quantity == "angle" else " "
        unit = "" if typed is not None or not row.unit else f"{gap}{row.unit}"
        text = f"{row.text}{unit}" if typed is None else typed
        room = self.width() - 2 * (BORDER + PADDING)
        mode = Qt.TextElideMode.ElideRight if typed is None else Qt.TextElideMode.ElideLeft
        shown = self.fontMetrics().elidedText(text, mode, room)
        if shown != text and typed is None:  # all digits before the unit, which the tooltip has
            shown = self.fontMetrics().elidedText(row.text, mode, room)
        self.setText(shown or "\N{EN DASH}")
        self._wear(row.held or typed is not None, lit)
        state = ("held, " if row.held else "") + ("digits go here, " if lit and row.takes else "")
        self.setAccessibleName(f"{label}: {state}{text}")
        further, whole = FURTHER.get(row.quantity, ""), f"{label} {text}"
        self.setToolTip(TEACH.format(label=whole, further=further) if row.takes else whole)

    def _wear(self, held: bool, lit: bool) -> None:
        words = ("true" if held else "false", "true" if lit else "false")
        if (self.property("held"), self.property("lit")) != words:
            self.setProperty("held", words[0])
            self.setProperty("lit", words[1])
            self.style().unpolish(self)
            self.style().polish(self)
            self.setFont(self._digits)  # a new dress of the style sheet takes the font away


class ReadoutCell(QWidget):
    """Word, digits and the key that lets go, of a size that no value changes.

    Signals
    -------
    freed(str)
        The row whose held value is to be let go.
    """

    freed = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.label = QLabel(self)
        self.free = QToolButton(self)
        self.free.setText("\N{MULTIPLICATION SIGN}")
        self.free.setAutoRaise(True)
        self.free.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.free.setObjectName("free")
        self.free.clicked.connect(self._free)
        self.digits = Digits(self)
        self.label.setBuddy(self.digits)
        head = QHBoxLayout()
        head.setContentsMargins(0, 0, 0, 0)
        head.setSpacing(0)
        head.addWidget(self.label, 1)
        head.addWidget(self.free)
        stack = QVBoxLayout(self)
        stack.setContentsMargins(0, 0, 0, 0)
        stack.setSpacing(0)
        stack.addLayout(head)
        stack.addWidget(self.digits)

    def fit(self, width: int, small: QFont, big: QFont) -> None:
        """Take a width and the fonts of word and digits."""
        self.label.setFont(small)
        head = QFontMetrics(small).height() + 1
        self.label.setFixedHeight(head)
        self.free.setFixedSize(QSize(KEY if width >= ROOMY else NARROW_KEY, head))
        self.digits.size_up(width, big)
        self.setFixedSize(width, head + self.digits.height())

    def sleep(self, name: str) -> None:
        """Show only the word of a row that the stage does not ask for."""
        self.label.setText(LABELS.get(name, name.capitalize()))
        self.label.setEnabled(False)
        self.free.setVisible(False)
        self.digits.sleep()
        self.setVisible(bool(name))

    def show_row(self, row: Row, origin: str, typed: str | None, lit: bool) -> None:
        """Show a row; `origin` tells where it counts from when that is not the sheet's zero."""
        label = f"{row.label}{' from ' + origin if origin else ''}"
        self.label.setText(label)
        self.label.setEnabled(True)
        self.free.setVisible(row.held)
        self.free.setToolTip(LET_GO.format(label=row.label))
        self.free.setAccessibleName(f"Let {row.label} go")
        self.digits.show_row(row, label, typed, lit)
        self.setVisible(True)

    @Slot()
    def _free(self) -> None:
        if self.digits.row is not None:
            self.freed.emit(self.digits.row.name)
