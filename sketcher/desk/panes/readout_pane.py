"""The readout: big digits, one row a value, built like the axis readout of a milling machine."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from sketcher.board.board import Board
from sketcher.board.readout.row import Row
from sketcher.board.steps.notices import Change
from sketcher.desk.theme import digits_font

PLACES = 8
TEACH = (
    "{label}. Press here or begin to type on the sheet, then Enter: the value is held while you "
    "draw, and becomes a dimension."
)


class Digits(QPushButton):
    """One value of the readout; a press opens it for typing.

    Signals
    -------
    opened(str)
        The row's name.
    """

    opened = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.row: Row | None = None
        self.setAutoDefault(False)
        self.clicked.connect(self._open)

    @Slot()
    def _open(self) -> None:
        if self.row is not None and self.row.takes:
            self.opened.emit(self.row.name)

    def show_row(self, row: Row, typed: str | None, next_up: bool) -> None:
        """Show a row; `typed` is what is being typed into it, or None."""
        self.row = row
        text = row.text if typed is None else f"{typed}\N{LEFT ONE EIGHTH BLOCK}"
        gap = "" if row.quantity == "angle" else " "
        unit = "" if typed is not None or not row.unit else f"{gap}{row.unit}"
        held = "true" if row.held or typed is not None or next_up else "false"
        self.setText(f"{text}{unit}" or "\N{EN DASH}")
        if self.property("held") != held:
            self.setProperty("held", held)
            self.style().unpolish(self)
            self.style().polish(self)
        state = "held, " if row.held else ""
        self.setAccessibleName(f"{row.label}: {state}{text}{unit}")
        self.setToolTip(TEACH.format(label=row.label) if row.takes else row.label)


class ReadoutPane(QWidget):
    """The row of digits under the sheet, with zero, unit and halve at its end.

    Signals
    -------
    opened_row()
        A row waits for digits; the sheet should have the keyboard.
    """

    opened_row = Signal()

    def __init__(self, board: Board, parent: QWidget) -> None:
        super().__init__(parent)
        self.board = board
        self.setObjectName("readout")
        self.setAccessibleName("Readout")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        line = QHBoxLayout(self)
        line.setContentsMargins(8, 4, 8, 4)
        line.setSpacing(8)
        self.cells: list[tuple[QWidget, QLabel, Digits]] = []
        for _ in range(PLACES):
            line.addWidget(self._cell())
        line.addStretch(1)
        self.keys = QWidget(self)
        self._key_line = QHBoxLayout(self.keys)
        self._key_line.setContentsMargins(0, 0, 0, 0)
        self._key_line.setSpacing(6)
        line.addWidget(self.keys)
        self.refresh()

    def _cell(self) -> QWidget:
        cell = QWidget(self)
        stack = QVBoxLayout(cell)
        stack.setContentsMargins(0, 0, 0, 0)
        stack.setSpacing(0)
        label = QLabel(cell)
        digits = Digits(cell)
        digits.setMinimumWidth(132)
        label.setBuddy(digits)
        digits.opened.connect(self._open)
        stack.addWidget(label)
        stack.addWidget(digits)
        self.cells.append((cell, label, digits))
        return cell

    def dress(self, font: QFont) -> None:
        """Take the program's font and make the digits big."""
        small = QFont(font)
        small.setPointSizeF(font.pointSizeF() * 0.9)
        big = digits_font(font)
        big.setPointSizeF(font.pointSizeF() * 1.7)
        for _, label, digits in self.cells:
            label.setFont(small)
            digits.setFont(big)

    def add_key(self, button: QWidget) -> None:
        """Put a key at the end of the readout."""
        button.setParent(self.keys)
        self._key_line.addWidget(button)

    @Slot(object)
    def hear(self, change: Change) -> None:
        """Follow the board."""
        self.refresh()

    def refresh(self) -> None:
        """Show the board's rows."""
        rows = self.board.typing.rows()[:PLACES]
        entry = self.board.typing.entry
        for number, (cell, label, digits) in enumerate(self.cells):
            if number >= len(rows):
                cell.setVisible(False)
                continue
            row = rows[number]
            typed = entry.text if entry is not None and entry.row == row.name else None
            label.setText(row.label + ("  \N{BULLET} held" if row.held else ""))
            digits.show_row(row, typed, entry is None and self.board.typing.row == row.name)
            cell.setVisible(True)

    @Slot(str)
    def _open(self, name: str) -> None:
        held = any(row.name == name and row.held for row in self.board.typing.rows())
        if held:
            self.board.typing.let_go(name)
        self.board.typing.open_row(name)
        self.opened_row.emit()
