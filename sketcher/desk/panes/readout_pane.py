"""The readout: big digits, one row a value, built like the axis readout of a milling machine."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtGui import QFont, QFontMetrics, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QToolButton, QWidget

from sketcher.board.board import Board
from sketcher.board.readout.row import Row
from sketcher.board.steps.notices import Change
from sketcher.desk.panes.readout_cell import BORDER, PADDING, WIDEST, Digits, ReadoutCell
from sketcher.desk.panes.way_keys import WayKeys
from sketcher.desk.theme import digits_font

PLACES = 6
BIG, SMALL = 1.7, 0.9
"""Size of digits and words as a share of the program's text, where there is room."""
LEAST, MOST = 64, 150
"""Pixels that a place is wide at least and at most."""
EDGE, GAP, NARROW_GAP = 8, 8, 3
LINE = 24
"""Pixels that keys in two lines are high (WCAG 2.2, 2.5.8)."""
WAY_AIR, KEY_AIR = 28, 37
"""Pixels around the word of a key, frame and the gap beside it included."""
WAYS = ("Line", "Tangent arc", "Free arc")
"""The longest words that the ways of any tool have together."""


class ReadoutPane(QWidget):
    """The row of digits under the sheet, with zero, unit and halve at its end.

    Its height and the places of its rows go by the size of text and the width of the window alone:
    nothing moves while somebody types or from one step of a command to the next.

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
        self.bed = QWidget(self)  # no layout: what stands in it never asks for a wider window
        self.places = [ReadoutCell(self.bed) for _ in range(PLACES)]
        for cell in self.places:
            cell.digits.opened.connect(self._open)
            cell.freed.connect(self._free)
        self.ways = WayKeys(self)
        self.ways.chosen.connect(self._choose)
        self.keys = QWidget(self)
        self.keys.setObjectName("readout_keys")
        self._key_line = QHBoxLayout(self.keys)
        self._key_line.setContentsMargins(0, 0, 0, 0)
        self._key_line.setSpacing(6)
        self._font = self.font()
        self.refresh()

    @property
    def cells(self) -> list[tuple[QWidget, QLabel, Digits]]:
        """Each place with its word and its digits."""
        return [(cell, cell.label, cell.digits) for cell in self.places]

    def digits_of(self, name: str) -> Digits:
        """Return the digits that show a row now."""
        return next(cell.digits for cell in self.places
                    if cell.digits.row is not None and cell.digits.row.name == name)

    def dress(self, font: QFont) -> None:
        """Take the program's font and make the digits big."""
        self._font = font
        self._fit()
        self.refresh()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the places what room there is."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._fit()
            self.refresh()

    def minimumSizeHint(self) -> QSize:
        """Return the width in which everything still stands, the keys in two lines."""
        return QSize(PLACES * (LEAST + GAP) + 2 * EDGE + self._end_width(stacked=True),
                     self.minimumHeight())

    def _end_width(self, stacked: bool) -> int:
        """Return the pixels that ways and keys take: beside each other, or one above the other."""
        words, keys = QFontMetrics(self._small()), self.keys.findChildren(QToolButton)
        if stacked:
            ways = sum(words.horizontalAdvance(way) + WAY_AIR for way in WAYS)
            return max(ways, sum(words.horizontalAdvance(key.text()) + WAY_AIR for key in keys))
        ways = words.horizontalAdvance(WAYS[1]) + words.horizontalAdvance(WAYS[2]) + 56
        return ways + GAP + sum(
            key.fontMetrics().horizontalAdvance(key.text()) + KEY_AIR for key in keys)

    def _small(self) -> QFont:
        small = QFont(self._font)
        small.setPointSizeF(self._font.pointSizeF() * SMALL)
        return small

    def _fit(self) -> None:
        small, big = self._small(), digits_font(self._font)
        end = self._end_width(stacked=False)
        stacked = self.width() < PLACES * (LEAST + GAP) + 2 * EDGE + end
        if stacked:
            end = self._end_width(stacked=True)
        gap = NARROW_GAP if stacked else GAP
        room = self.width() - 2 * EDGE - end - GAP
        wide = max(LEAST, min(MOST, room // PLACES - gap))
        size = BIG
        big.setPointSizeF(self._font.pointSizeF() * size)
        while size > 1.0 and QFontMetrics(big).horizontalAdvance(WIDEST) > wide - 2 * (
                BORDER + PADDING):
            size -= 0.05
            big.setPointSizeF(self._font.pointSizeF() * size)
        for number, cell in enumerate(self.places):
            cell.fit(wide, small, big)
            cell.move(number * (wide + gap), 0)
        full = digits_font(self._font)
        full.setPointSizeF(self._font.pointSizeF() * BIG)
        high = 8 + self.places[0].height() - QFontMetrics(big).height() \
            + QFontMetrics(full).height()
        self.setFixedHeight(max(high, 2 * LINE + 6) if stacked else high)
        self.bed.setGeometry(EDGE, 4, PLACES * (wide + gap), self.height() - 8)
        self._place_end(stacked, end)

    def _place_end(self, stacked: bool, end: int) -> None:
        """Put ways and keys at the end of the row: the ways above the keys in a narrow window."""
        small = self._small()
        self.ways.put_in(1 if stacked else 2)
        for key in self.ways.keys:
            key.setFont(small)
        self._wear_narrow(stacked)
        left, high = self.width() - EDGE - end, self.height() - 8
        if stacked:
            self.ways.setGeometry(left, 2, end, LINE)
            self.keys.setGeometry(left, self.height() - LINE - 2, end, LINE)
        else:
            keys = self.keys.sizeHint().width()
            self.keys.setGeometry(self.width() - EDGE - keys, 4, keys, high)
            self.ways.setGeometry(left, 4, end - keys - GAP, high)

    def _wear_narrow(self, narrow: bool) -> None:
        word = "true" if narrow else "false"
        if self.keys.property("narrow") != word:
            self.keys.setProperty("narrow", word)
            for key in self.keys.findChildren(QToolButton):
                key.setSizePolicy(QSizePolicy.Policy.Expanding if narrow
                                  else QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
                key.style().unpolish(key)
                key.style().polish(key)
                key.setFont(self._small() if narrow else self._font)

    def add_key(self, button: QWidget) -> None:
        """Put a key at the end of the readout."""
        button.setParent(self.keys)
        self._key_line.addWidget(button)
        self.keys.setProperty("narrow", None)
        self._fit()

    @Slot(object)
    def hear(self, change: Change) -> None:
        """Follow the board."""
        self.refresh()

    def refresh(self) -> None:
        """Show the board's rows, each in the place that it has in all stages of the tool."""
        typing, tool = self.board.typing, self.board.tool
        rows = typing.rows()
        columns = tool.columns if tool.rows() else ()
        by_name = {row.name: row for row in rows}
        names = [*columns, *(row.name for row in rows if row.name not in columns)][:PLACES]
        lit = typing.lit
        for cell, name in zip(self.places, [*names, *[""] * PLACES], strict=False):
            if name in by_name:
                self._show(cell, by_name[name], lit)
            else:
                cell.sleep(name)
        self.ways.show_ways(tool.ways())

    def _show(self, cell: ReadoutCell, row: Row, lit: str) -> None:
        entry = self.board.typing.entry
        typed = entry.shown if entry is not None and entry.row == row.name else None
        zero = self.board.bench.zero
        origin = ""
        if row.name in ("x", "y"):
            origin = zero.point or ("zero" if zero.at != (0.0, 0.0) else "")
        going = entry.row if entry is not None else lit
        cell.show_row(row, origin, typed, row.takes and row.name == going)

    @Slot(str)
    def _open(self, name: str) -> None:
        held = any(row.name == name and row.held for row in self.board.typing.rows())
        if held:
            self.board.typing.let_go(name)
        self.board.typing.open_row(name)
        self.opened_row.emit()

    @Slot(str)
    def _free(self, name: str) -> None:
        self.board.typing.let_go(name)
        self.opened_row.emit()

    @Slot(str)
    def _choose(self, name: str) -> None:
        self.board.choose(name)
        self.opened_row.emit()
