"""Below the inspection's rows: why the row at hand matters, and what mends it."""

from __future__ import annotations

import sys
from functools import partial
from html import escape

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from sketcher.desk.panes.row_table import EntryTable
from sketcher.desk.panes.sections import SectionEntry

SIDE = 6
"""Pixels left and right of the words."""
LEAST_LINES = 3
"""Lines of words that are seen in the lowest window."""


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
        stack.setContentsMargins(SIDE, 4, SIDE, 4)
        self.label = QLabel("", self)
        self.label.setWordWrap(True)
        self.label.setTextFormat(Qt.TextFormat.RichText)
        self.label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.bed = QScrollArea(self)
        self.bed.setWidgetResizable(True)
        self.bed.setFrameShape(QFrame.Shape.NoFrame)
        self.bed.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.bed.setAccessibleName(self.accessibleName())
        self.bed.setWidget(self.label)
        self.bed.viewport().setAutoFillBackground(False)
        self.label.setAutoFillBackground(False)
        self._most = 0
        stack.addWidget(self.bed)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Maximum)
        self.hide()

    def keep_below(self, most: int) -> None:
        """Take no more than this many pixels; longer words are scrolled to."""
        self._most = most
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Be as high as the words at the new width."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._fit()

    def _fit(self) -> None:
        least = LEAST_LINES * self.label.fontMetrics().lineSpacing()
        high = max(self.label.heightForWidth(max(self.width() - 2 * SIDE, 1)), 0)
        room = max(least, self._most)
        # Whoever has no mouse scrolls with the arrows, where there is something to scroll to.
        self.bed.setFocusPolicy(Qt.FocusPolicy.TabFocus if high > room
                                   else Qt.FocusPolicy.NoFocus)
        self.bed.setFixedHeight(min(high, room))

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
            self.bed.verticalScrollBar().setValue(0)
            self._fit()
