"""A table over plain rows: read-only model, sorting by value, copying what is selected."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QSortFilterProxyModel,
    Qt,
)
from PySide6.QtGui import QColor, QGuiApplication, QKeyEvent, QKeySequence, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from sketcher.desk.panes.sections import Section, SectionEntry, as_text

Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()
MOST_WRAPPED = 200
LOOKED_AT = 60
"""Rows from which the columns take their width."""
AIR, MOST_SHARE = 12, 3
"""Pixels around a word, and the share of the room that a column of wrapped words may take."""


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
    """A sortable, copyable table of one section."""

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
        self._sized = False

    def show_section(self, section: Section) -> None:
        """Show other rows; the columns take their width from the first ones."""
        self.rows.show_section(section)
        if not self._sized and section.entries:
            self._sized = True
            self._size(section)
        self._wrap()

    def _size(self, section: Section) -> None:
        """Make columns as wide as their words; where rows wrap, let no column take all the room."""
        metrics, most = self.fontMetrics(), self.viewport().width() // MOST_SHARE
        for column, title in enumerate(section.columns):
            texts = [title, *(entry.cells[column].text for entry in section.entries[:LOOKED_AT])]
            wide = max(metrics.horizontalAdvance(text) for text in texts) + AIR
            self.setColumnWidth(column, min(wide, most) if section.wraps else wide)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Wrap long sentences to the new width."""
        super().resizeEvent(event)
        self._wrap()

    def _wrap(self) -> None:
        """Make rows as high as their sentences; in a long list the tooltip has to do."""
        section = self.rows.section
        if section is not None and section.wraps and len(section.entries) <= MOST_WRAPPED:
            self.resizeRowsToContents()

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
