"""The ledger pane: parameters above, what can be bound, every binding, and what would mend it."""

from __future__ import annotations

from PySide6.QtCore import QItemSelectionModel, QModelIndex, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from sketcher.board.board import Board
from sketcher.board.ledger.ledger_edits import drop, make, reorder
from sketcher.board.ledger.ledger_rows import find
from sketcher.board.steps.notices import PART_REASONS, Change
from sketcher.desk.looks import Look
from sketcher.desk.panes.kind_bar import KindBar
from sketcher.desk.panes.ledger_model import FIELDS, LedgerModel
from sketcher.desk.panes.mending_bar import MendingBar
from sketcher.desk.panes.parameter_table import ParameterTable
from sketcher.desk.panes.pattern_table import PatternTable
from sketcher.desk.panes.typing_delegate import TypingDelegate

FILTERS = {
    "": "All", "dimensions": "Dimensions", "references": "References", "trouble": "Trouble",
}
# Shares of the table's width.
SHARES = {
    "id": 13, "kind": 11, "of": 16, "value": 18, "actual": 16, "residual": 11, "drives": 14,
    "tolerance": 12,
}


class LedgerTable(QTableView):
    """The table of bindings; Alt with arrows moves a row, Delete drops it.

    Signals
    -------
    moved(int)
        A row is to go up (-1) or down (1).
    dropped()
        The selected rows are to be dropped.
    """

    moved = Signal(int)
    dropped = Signal()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the width out among the columns."""
        super().resizeEvent(event)
        total = sum(SHARES.values())
        for field in FIELDS:
            wide = self.viewport().width() * SHARES[field] // total
            self.setColumnWidth(FIELDS.index(field), wide)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move or drop rows; everything else as in any table."""
        alt = event.modifiers() & Qt.KeyboardModifier.AltModifier
        if alt and event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.moved.emit(-1 if event.key() == Qt.Key.Key_Up else 1)
        elif event.key() == Qt.Key.Key_Delete:
            self.dropped.emit()
        else:
            super().keyPressEvent(event)


class LedgerPane(QWidget):
    """Shows and changes the bindings of the part.

    Signals
    -------
    pointed(object)
        Ids that a row under the pointer speaks of.
    asked(str)
        A binding whose row was chosen.
    """

    pointed = Signal(object)
    asked = Signal(str)

    def __init__(self, board: Board, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self.board = board
        self.look = look
        self._following = False
        self.setAccessibleName("Ledger")
        self._late = QTimer(self)
        self._late.setSingleShot(True)
        self._late.timeout.connect(self.refresh)
        stack = QVBoxLayout(self)
        stack.setContentsMargins(4, 4, 4, 4)
        stack.setSpacing(4)
        self.parameters = ParameterTable(board, self)
        stack.addWidget(self.parameters)
        self.patterns = PatternTable(board, self)
        stack.addWidget(self.patterns)
        self.kinds = KindBar(board, look, self)
        self.kinds.asked.connect(self.bind)
        stack.addWidget(self.kinds)
        stack.addLayout(self._finder())
        stack.addWidget(self._table(), 1)
        self.reason = QLabel("", self)
        self.reason.setObjectName("reason")
        self.reason.setWordWrap(True)
        self.reason.setAccessibleName("Why the input was refused")
        self.reason.hide()
        stack.addWidget(self.reason)
        self.mending = MendingBar(board, self)
        self.mending.pointed.connect(self.pointed)
        stack.addWidget(self.mending)
        self.parameters.refused.connect(self._refused)
        self.patterns.refused.connect(self._refused)

    # Building.

    def _finder(self) -> QHBoxLayout:
        line = QHBoxLayout()
        self.search = QLineEdit(self)
        self.search.setPlaceholderText("Find a binding")
        self.search.setClearButtonEnabled(True)
        self.search.setAccessibleName("Find a binding")
        self.filter = QComboBox(self)
        self.filter.setAccessibleName("Which bindings are listed")
        for name, label in FILTERS.items():
            self.filter.addItem(label, name)
        self.search.textChanged.connect(self._filtered)
        self.filter.currentIndexChanged.connect(self._filtered)
        line.addWidget(self.search, 1)
        line.addWidget(self.filter)
        return line

    def _table(self) -> QWidget:
        self.model = LedgerModel(self.board, self.look, self)
        table = LedgerTable(self)
        table.setModel(self.model)
        table.setAccessibleName("Bindings")
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        table.setWordWrap(False)
        table.setMouseTracking(True)
        table.verticalHeader().hide()
        table.verticalHeader().setDefaultSectionSize(table.fontMetrics().height() + 5)
        header = table.horizontalHeader()
        header.setAccessibleName("Columns of the bindings")
        header.setMinimumSectionSize(20)
        header.setStretchLastSection(False)
        self.typing = TypingDelegate(self.model.try_text, self)
        self.typing.refused.connect(self._refused)
        table.setItemDelegate(self.typing)
        table.entered.connect(self._point)
        table.selectionModel().selectionChanged.connect(self._selected)
        table.moved.connect(self._move)
        table.dropped.connect(self._drop)
        self.table = table
        return table

    def wear(self, look: Look) -> None:
        """Draw signs in the colours of a look."""
        self.look = look
        self.model.look = look
        self.kinds.wear(look)
        self.table.viewport().update()

    # Following the board.

    @Slot(object)
    def hear(self, change: Change) -> None:
        """Follow the board; while a gesture goes on the rows follow a little later."""
        if change.reason == "drag":
            self._late.start(100)
        elif change.reason in PART_REASONS or change.reason == "settings":
            self.refresh()
        if change.reason == "selection":
            self._follow_selection()
        if change.reason in PART_REASONS or change.reason == "selection":
            self.kinds.refresh()

    @Slot()
    def refresh(self) -> None:
        """Show the board's rows."""
        self._following = True
        try:
            self.model.refresh()
            self.parameters.refresh()
            self.patterns.refresh()
        finally:
            self._following = False
        self._show_mendings()

    def _follow_selection(self) -> None:
        """Select the rows of selected bindings, and of those on the selected geometry."""
        if self._following:
            return
        self._following = True
        try:
            names = set(find(self.model.rows, self.board.bench.selection.ids))
            rows = [n for n, row in enumerate(self.model.rows) if row.id in names]
            self.table.clearSelection()
            flags = self.table.selectionModel()
            mode = QItemSelectionModel.SelectionFlag
            for n in rows:
                flags.select(self.model.index(n, 0), mode.Select | mode.Rows)
            if rows:
                self.table.scrollTo(self.model.index(rows[0], 0))
        finally:
            self._following = False
        self._show_mendings()

    @Slot(str)
    def bind(self, kind: str) -> None:
        """Bind the selection by a kind; a dimension's field opens for its value."""
        why = make(self.board.bench, kind)
        self._refused(why)
        made = self.board.bench.selection.bindings(self.board.part)
        row = self.model.row_of(made[-1]) if made and not why else None
        if row is None:
            return
        name = made[-1]
        self.table.selectRow(row)
        if self.board.part.bindings[name].value is not None:
            index = self.model.index(row, FIELDS.index("value"))
            self.table.setCurrentIndex(index)
            self.table.setFocus()
            self.table.edit(index)

    # What the person does.

    @Slot()
    def _filtered(self) -> None:
        self.model.find = self.search.text()
        self.model.only = str(self.filter.currentData() or "")
        self.refresh()

    @Slot(QModelIndex)
    def _point(self, index: QModelIndex) -> None:
        if index.isValid():
            row = self.model.rows[index.row()]
            self.pointed.emit((row.id, *self.board.part.bindings[row.id].of))

    @Slot()
    def _selected(self) -> None:
        if self._following:
            return
        names = self.chosen()
        self._following = True
        try:
            if names:
                self.board.bench.select(names)
                lit = [i for name in names for i in self.board.part.bindings[name].of]
                self.pointed.emit((*names, *lit))
        finally:
            self._following = False
        self._show_mendings()

    def chosen(self) -> list[str]:
        """Return the bindings of the selected rows."""
        rows = sorted(index.row() for index in self.table.selectionModel().selectedRows())
        return [self.model.rows[n].id for n in rows if n < len(self.model.rows)]

    @Slot(int)
    def _move(self, way: int) -> None:
        names = self.chosen()
        if len(names) != 1:
            return
        place = list(self.board.part.bindings).index(names[0]) + way
        if 0 <= place < len(self.board.part.bindings):
            self._refused(reorder(self.board.bench, names[0], place))
            row = self.model.row_of(names[0])
            if row is not None:
                self.table.selectRow(row)

    @Slot()
    def _drop(self) -> None:
        names = self.chosen()
        if names:
            self._refused(drop(self.board.bench, *names))

    @Slot(str)
    def _refused(self, why: str) -> None:
        self.reason.setText(why)
        self.reason.setVisible(bool(why))

    def _show_mendings(self) -> None:
        """Offer what would mend a chosen row, or else the first one in trouble."""
        rows = {row.id: row for row in self.model.rows}
        troubled = [row.id for row in rows.values()
                    if row.state in ("clashing", "doubled", "doubtful")]
        name = next(iter([*(n for n in self.chosen() if n in troubled), *troubled]), "")
        self.mending.show_row(rows.get(name))

    def leaveEvent(self, event: object) -> None:
        """Put the lights out."""
        self.pointed.emit(())
