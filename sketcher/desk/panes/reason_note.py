"""Below the inspection's rows: why the row at hand matters, and what mends it."""

from __future__ import annotations

import sys
from functools import partial
from html import escape

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtWidgets import QFrame, QLabel, QSizePolicy, QVBoxLayout, QWidget

from sketcher.desk.panes.row_table import EntryTable
from sketcher.desk.panes.sections import SectionEntry


class ReasonNote(QFrame):
    """Speaks of the current row of the open table, and hides where there is nothing to say.

    Parameters
    ----------
    parent : QWidget
    """

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAccessibleName("Why it matters and what mends it")
        self.entry: SectionEntry | None = None
        self._table: EntryTable | None = None
        stack = QVBoxLayout(self)
        stack.setContentsMargins(6, 4, 6, 4)
        self.label = QLabel("", self)
        self.label.setWordWrap(True)
        self.label.setTextFormat(Qt.TextFormat.RichText)
        self.label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        stack.addWidget(self.label)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Maximum)
        self.hide()

    def watch(self, table: EntryTable) -> None:
        """Follow the current row of a table, and its rows when they are made anew."""
        table.selectionModel().currentRowChanged.connect(partial(self._moved, table))
        table.order.modelReset.connect(partial(self._moved, table))

    def look_at(self, table: EntryTable | None) -> None:
        """Speak of this table from now on."""
        self._table = table
        entry = None
        if table is not None and table.rows.section is not None:
            index = table.currentIndex()
            first = table.order.index(0, 0)
            if not index.isValid() and first.isValid() and table.entry_at(first).bad:
                index = first  # what is to be mended first is explained without being asked
            entry = table.entry_at(index) if index.isValid() else None
        self._say(entry)

    def _moved(self, table: EntryTable, *_: QModelIndex) -> None:
        try:
            if table is self._table:
                self.look_at(table)
        except Exception:  # noqa: BLE001 - a slot only tells
            sys.excepthook(*sys.exc_info())

    def _say(self, entry: SectionEntry | None) -> None:
        self.entry = entry if entry is not None and entry.why else None
        self.setVisible(self.entry is not None)
        if self.entry is not None:
            why, mend = escape(self.entry.why), escape(self.entry.mend)
            self.label.setText(f"<p><b>Why it matters</b><br>{why}</p>"
                               f"<p><b>What mends it</b><br>{mend}</p>")
