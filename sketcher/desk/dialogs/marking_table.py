"""The marks of a class: a student a row, a rule a column, points lost in the cells."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, Qt, Signal, Slot
from PySide6.QtGui import QColor
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from sketcher.board.files.marking_book import BookRow, ClassBook
from sketcher.board.files.marking_words import cell_words, points_words, remarks, who
from sketcher.desk.looks import Look
from sketcher.marking.rules import marking_rules

WHO, TOTAL, LEFT = range(3)
FIRST_RULE = 3
NUMBER, SORT = Qt.ItemDataRole.UserRole, Qt.ItemDataRole.UserRole + 1


class SortedItem(QTableWidgetItem):
    """A cell that sorts by what it means and not by its letters."""

    def __lt__(self, other: QTableWidgetItem) -> bool:
        """Tell whether it stands before another."""
        one, its = self.data(SORT), other.data(SORT)
        return bool(one < its)


class MarksTable(QTableWidget):
    """Shows the class; a press on a head sorts by that column.

    Signals
    -------
    pointed(int, str)
        Number of the hand-in that the keyboard is on, and the rule of the column; may be empty.
    """

    pointed = Signal(int, str)

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self.look = look
        self.rules: tuple[str, ...] = ()
        self._rows: tuple[BookRow, ...] = ()
        self._names = True
        self.setAccessibleName("Marks")
        self.setAccessibleDescription("Points that each rule takes off each hand-in.")
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.verticalHeader().hide()
        # columns that follow their cells would be measured anew with every single one
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        self.horizontalHeader().setSortIndicator(WHO, Qt.SortOrder.AscendingOrder)
        self.setSortingEnabled(True)
        self.setMinimumSize(150, 60)
        self.currentCellChanged.connect(self._moved)

    def show_book(self, book: ClassBook, names: bool) -> None:
        """List the class; the row with the keyboard and the order stay."""
        number, rule = self.current()
        rules = book.rules()
        changed: set[int] = set()
        with QSignalBlocker(self):
            self.setSortingEnabled(False)
            if rules != self.rules or self.rowCount() != len(book.rows) or names != self._names:
                self.clearContents()
                self.rules, self._names, self._rows = rules, names, ()
                self.setRowCount(len(book.rows))
                self.setColumnCount(FIRST_RULE + len(rules))
                self._head()
            for place in range(self.rowCount()):
                item = self.item(place, WHO)
                own = place if item is None else int(item.data(NUMBER))
                if not self._rows or self._rows[own] is not book.rows[own]:
                    changed |= self._fill(place, own, book.rows[own], names)
            self._rows = book.rows
            for column in changed:
                self.resizeColumnToContents(column)
            self.setSortingEnabled(True)
            self.point_at(number if 0 <= number < len(book.rows) else 0, rule)

    def _head(self) -> None:
        titles = ["Student", "Points", "To look at"]
        self.setHorizontalHeaderLabels([*titles, *self.rules])
        for column, name in enumerate(self.rules, FIRST_RULE):
            head = self.horizontalHeaderItem(column)
            if head is not None:
                head.setToolTip(marking_rules()[name].title)

    def _fill(self, place: int, number: int, row: BookRow, names: bool) -> set[int]:
        """Fill a row in; return the columns whose words are others."""
        changed = set()
        told = "\n".join(remarks(row))
        marks = row.marks
        mark = "? " if row.alike else ""
        cells: list[tuple[str, object]] = [
            (f"{mark}{who(row, names)}", (row.entry.number.rjust(12), row.entry.file)),
            (points_words(row), marks.points if marks.has_points else -1.0),
            (str(row.open) if row.open else "", row.open),
            *((cell_words(row, rule), row.lost(rule)) for rule in self.rules)]
        for column, (text, sort) in enumerate(cells):
            item = self.item(place, column)
            if item is None:
                item = SortedItem()
                self.setItem(place, column, item)
                changed.add(column)
            elif item.text() != text:
                changed.add(column)
            item.setText(text)
            item.setData(NUMBER, number)
            item.setData(SORT, sort)
            if column != WHO:
                item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            if column == TOTAL:
                item.setForeground(QColor(self.look.text if marks.has_points else self.look.bad))
            item.setToolTip(told)
        return changed

    def current(self) -> tuple[int, str]:
        """Return the number of the hand-in that the keyboard is on, and the rule; -1 for none."""
        item = self.item(self.currentRow(), WHO)
        column = self.currentColumn() - FIRST_RULE
        return (int(item.data(NUMBER)) if item is not None else -1,
                self.rules[column] if 0 <= column < len(self.rules) else "")

    def point_at(self, number: int, rule: str = "") -> None:
        """Put the keyboard on a hand-in."""
        for row in range(self.rowCount()):
            item = self.item(row, WHO)
            if item is not None and item.data(NUMBER) == number:
                column = FIRST_RULE + self.rules.index(rule) if rule in self.rules else max(
                    0, min(self.currentColumn(), FIRST_RULE - 1))
                self.setCurrentCell(row, column)
                return

    def step(self, rows: int) -> None:
        """Go on by rows as they are sorted; at the end it stays."""
        row = self.currentRow() + rows
        if 0 <= row < self.rowCount():
            self.setCurrentCell(row, max(self.currentColumn(), 0))

    @Slot(int, int, int, int)
    def _moved(self, row: int, column: int, *_: int) -> None:
        number, rule = self.current()
        if number >= 0:
            self.pointed.emit(number, rule)
