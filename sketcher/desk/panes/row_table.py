"""A table over plain rows: read-only model, sorting by value, copying what is selected."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QSortFilterProxyModel,
    Qt,
    Signal,
    Slot,
)
from PySide6.QtGui import (
    QColor,
    QGuiApplication,
    QKeyEvent,
    QKeySequence,
    QResizeEvent,
    QShowEvent,
)
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from sketcher.desk.panes.sections import Section, SectionEntry, as_text

Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()
MOST_WRAPPED = 200
LOOKED_AT = 60
"""Rows from which the columns take their width."""
AIR = 10
"""Pixels around a word."""
SEEN_ROWS, SEEN_LINES = 4, 14
"""Rows that are seen at least, and the lines of words that they may take together for it."""


class EntryModel(QAbstractTableModel):
    """Shows one section."""

    def __init__(self, parent: QObject, bad: str) -> None:
        super().__init__(parent)
        self.section: Section | None = None
        self.bad = bad

    def show_section(self, section: Section) -> None:
        """Take over other rows."""
        self.beginResetModel()
        self.section = section
        self.endResetModel()

    def put_entry(self, was: SectionEntry, now: SectionEntry) -> bool:
        """Put a row in the place of another; return whether that was there."""
        section = self.section
        row = next((k for k, entry in enumerate(section.entries) if entry is was), None) \
            if section is not None else None
        if section is None or row is None:
            return False
        entries = (*section.entries[:row], now, *section.entries[row + 1:])
        self.section = replace(section, entries=entries)
        self.dataChanged.emit(self.index(row, 0), self.index(row, len(section.columns) - 1))
        return True

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of rows."""
        return 0 if parent.isValid() or self.section is None else len(self.section.entries)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of columns."""
        return 0 if parent.isValid() or self.section is None else len(self.section.columns)

    def entry(self, row: int) -> SectionEntry:
        """Return the row's data."""
        assert self.section is not None
        return self.section.entries[row]

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return text, sort key, tip or colour of a cell."""
        if not index.isValid():
            return None
        entry = self.entry(index.row())
        cell = entry.cells[index.column()]
        if role == Qt.ItemDataRole.DisplayRole:
            return cell.text
        if role == Qt.ItemDataRole.UserRole:
            return cell.order
        if role == Qt.ItemDataRole.ToolTipRole:
            return entry.tip or cell.text
        if role == Qt.ItemDataRole.ForegroundRole and entry.bad:
            return QColor(self.bad)
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return a column's title."""
        if role != Qt.ItemDataRole.DisplayRole or orientation != Qt.Orientation.Horizontal:
            return None
        return self.section.columns[section] if self.section else None


def keeps_copy(event: QEvent) -> bool:
    """Take the key that copies from the menu's action, so that it comes to the widget itself."""
    if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent) \
            and event.matches(QKeySequence.StandardKey.Copy):
        event.accept()
        return True
    return False


class ByValue(QSortFilterProxyModel):
    """Sorts numbers by size, whatever their text."""

    def lessThan(self, left: Index, right: Index) -> bool:
        """Compare the sort keys."""
        role = Qt.ItemDataRole.UserRole
        return bool(left.data(role) < right.data(role))


class EntryTable(QTableView):
    """A sortable, copyable table of one section.

    Signals
    -------
    fitted()
        The rows have other heights.
    """

    fitted = Signal()

    def __init__(self, parent: QWidget, name: str, bad: str) -> None:
        super().__init__(parent)
        self.rows = EntryModel(self, bad)
        self.order = ByValue(self)
        self.order.setSourceModel(self.rows)
        self.setModel(self.order)
        self.setSortingEnabled(True)
        self.sortByColumn(-1, Qt.SortOrder.AscendingOrder)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setMouseTracking(True)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 5)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        self.horizontalHeader().setStretchLastSection(True)
        self.horizontalHeader().setHighlightSections(False)
        self.setAccessibleName(name)
        self.horizontalHeader().setAccessibleName(f"Columns of {name}")
        self.horizontalHeader().sectionResized.connect(self._dragged)
        self._stale = self._wrapped = self._sizing = self._by_hand = False

    def show_section(self, section: Section) -> None:
        """Show other rows; columns and rows take their size from the words once they are seen."""
        self.rows.show_section(section)
        self._stale = True
        if self.isVisible():
            self._fit()

    def put_entry(self, was: SectionEntry, now: SectionEntry) -> None:
        """Show a row in the place of another, with whatever is chosen left as it is."""
        if self.rows.put_entry(was, now):
            self._stale = True
            if self.isVisible():
                self._fit()

    def showEvent(self, event: QShowEvent) -> None:
        """Size the columns of rows that came while the table was away."""
        super().showEvent(event)
        if self._stale:
            self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the new width out and wrap the words to it."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._fit()

    def _fit(self) -> None:
        """Size the columns, then make rows as high as their words."""
        section = self.rows.section
        if section is None:
            return
        self._stale = False
        wraps = self._size(section)
        if (wraps or self._wrapped) and len(section.entries) <= MOST_WRAPPED:
            self.resizeRowsToContents()  # in a longer list the tooltip has to do
        self._wrapped = wraps
        self.fitted.emit()

    def _size(self, section: Section) -> bool:
        """Make columns as wide as their words, or as the room allows; say whether words wrap."""
        wide, least = self._widths(section)
        if not self._by_hand:
            self._sizing = True
            for column, width in enumerate(shared(wide, least, self.viewport().width())):
                self.setColumnWidth(column, width)
            self._sizing = False
        return any(self.columnWidth(column) < width for column, width in enumerate(wide))

    def _widths(self, section: Section) -> tuple[list[int], list[int]]:
        """Return how wide each column is in one line, and with its longest word alone."""
        measure, wide, least = self.fontMetrics().horizontalAdvance, [], []
        for column, title in enumerate(section.columns):
            texts = {entry.cells[column].text for entry in section.entries[:LOOKED_AT]}
            parts = {word for text in texts for word in text.split()}
            wide.append(max(map(measure, (title, *texts))) + AIR)
            least.append(max(map(measure, (title, *parts))) + AIR)
        return wide, least

    @Slot(int, int, int)
    def _dragged(self, column: int, was: int, now: int) -> None:
        """Leave the columns alone once a person has moved an edge; the last one only stretches."""
        pressed = QGuiApplication.mouseButtons() & Qt.MouseButton.LeftButton
        if pressed and not self._sizing and column < self.order.columnCount() - 1:
            self._by_hand = True
            self.resizeRowsToContents()

    def least_height(self) -> int:
        """Return the height in which the first rows are seen, whatever else wants room."""
        header, line = self.horizontalHeader(), self.verticalHeader().defaultSectionSize()
        rows = min(SEEN_ROWS, self.order.rowCount())
        high = sum(self.rowHeight(row) for row in range(rows))
        return header.sizeHint().height() + min(max(high, line), SEEN_LINES * line) + 4

    def entry_at(self, index: QModelIndex) -> SectionEntry:
        """Return the data of a shown row."""
        return self.rows.entry(self.order.mapToSource(index).row())

    def chosen(self) -> list[SectionEntry]:
        """Return the selected rows, in the order shown."""
        found = sorted(self.selectionModel().selectedRows(), key=QModelIndex.row)
        return [self.entry_at(index) for index in found]

    def copy_rows(self) -> None:
        """Put the selected rows, or all of them, on the clipboard."""
        if self.rows.section is None:
            return
        entries = self.chosen() or [
            self.entry_at(self.order.index(row, 0)) for row in range(self.order.rowCount())
        ]
        QGuiApplication.clipboard().setText(as_text(self.rows.section, entries))

    def event(self, event: QEvent) -> bool:
        """Keep the key that copies: with the keyboard here it means these rows."""
        return keeps_copy(event) or super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Copy with the usual key."""
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copy_rows()
        else:
            super().keyPressEvent(event)


def shared(wide: Sequence[int], least: Sequence[int], room: int) -> list[int]:
    """Return widths of columns for a room: whole ones while they fit, else the widest give way.

    Parameters
    ----------
    wide, least : sequence of int
        Pixels that each column would like, and those that it needs.
    room : int
        Pixels for all of them; less than the least of all is not kept to.
    """
    if sum(wide) <= room:
        return [*wide[:-1], wide[-1] + room - sum(wide)] if wide else []
    if sum(least) > room:  # then those in view fill it, so that none begins at its edge
        seen = next(n for n in range(len(least), -1, -1) if sum(least[:n]) <= room)
        return [*(shared(wide[:seen], least[:seen], room) if seen else ()), *least[seen:]]
    most = next(most for most in range(room, -1, -1) if sum(given(wide, least, most)) <= room)
    widths = given(wide, least, most)
    if widths:
        widths[-1] += room - sum(widths)
    return widths


def given(wide: Sequence[int], least: Sequence[int], most: int) -> list[int]:
    """Return the widths of columns of which none has more than this, unless it needs it."""
    return [max(low, min(high, most)) for high, low in zip(wide, least, strict=True)]
