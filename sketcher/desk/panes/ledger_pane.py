"""The ledger pane: parameters above, every binding, what can be bound, and what would mend it."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QItemSelectionModel, QModelIndex, QTimer, Signal, Slot
from PySide6.QtWidgets import (
    QApplication,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from sketcher.board.board import PICKING, Board
from sketcher.board.ledger.ledger_edits import drop, make, reorder
from sketcher.board.ledger.ledger_rows import find
from sketcher.board.mending.measured_value import differing
from sketcher.board.steps.notices import PART_REASONS, Change
from sketcher.desk.looks import Look
from sketcher.desk.panes.kind_bar import KindBar
from sketcher.desk.panes.ledger_model import FIELDS, LedgerModel, key_of
from sketcher.desk.panes.ledger_table import LedgerTable
from sketcher.desk.panes.mending_bar import MendingBar
from sketcher.desk.panes.parameter_table import ParameterTable
from sketcher.desk.panes.pattern_table import PatternTable
from sketcher.desk.panes.typing_delegate import TypingDelegate
from sketcher.part.kinds import KINDS

MOVES_ON = PART_REASONS - {"drag"} | {"selection", "tool", "saved", "exported"}
"""What is done next, so that nobody is kept by what was refused before."""
FILTERS = {
    "": "All", "dimensions": "Dimensions", "relations": "Relations", "references": "References",
    "trouble": "Trouble",
}


class LedgerPane(QWidget):
    """Shows and changes the bindings of the part.

    Signals
    -------
    pointed(object)
        Ids that a row under the pointer speaks of.
    asked(str)
        A binding whose row was chosen.
    left()
        A value was taken while a tool is in hand, or its field had opened by itself: what is
        typed next is meant for the sheet.
    """

    pointed = Signal(object)
    asked = Signal(str)
    left = Signal()

    def __init__(self, board: Board, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self.board = board
        self.look = look
        self._following = False
        self._clashes: tuple[tuple[str, ...], ...] = ()
        self.setAccessibleName("Ledger")
        self._late = QTimer(self)
        self._late.setSingleShot(True)
        self._late.timeout.connect(self._catch_up)
        stack = QVBoxLayout(self)
        stack.setContentsMargins(4, 4, 4, 4)
        stack.setSpacing(4)
        self.parameters = ParameterTable(board, self)
        stack.addWidget(self.parameters)
        self.patterns = PatternTable(board, self)
        stack.addWidget(self.patterns)
        stack.addLayout(self._finder())
        stack.addWidget(self._table(), 1)
        self.kinds = KindBar(board, look, self, self.table.viewport())
        self.kinds.asked.connect(self.bind)
        stack.addWidget(self.kinds)  # below: however many there are, no row of the ledger moves
        self.reason = QLabel("", self)
        self.reason.setObjectName("reason")
        self.reason.setWordWrap(True)
        self.reason.setAccessibleDescription("Why the input was refused")
        self.reason.hide()
        stack.addWidget(self.reason)
        self.mending = MendingBar(board, self)  # the window gives it its place
        self.mending.pointed.connect(self.pointed)
        self.parameters.refused.connect(self._refused)
        self.patterns.refused.connect(self._refused)
        for typing in (self.typing, self.parameters.typing, self.patterns.typing):
            typing.entered.connect(self._entered)

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
        table = LedgerTable(self.model, self)
        self.typing = TypingDelegate(self.model.try_text, self)
        self.typing.refused.connect(self._refused)
        self.typing.returned.connect(self.left)
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
        if change.reason == "load":
            self._begin_anew()
        if change.reason in MOVES_ON:  # what was refused is over with the next thing done
            self._refused("")
        if change.reason == "drag":
            self._late.start(100)
        elif change.reason in PART_REASONS or change.reason == "settings":
            self.refresh()
        if change.reason in PART_REASONS - {"drag"} or change.reason == "selection":
            self.kinds.refresh()
        if change.reason == "selection":
            self._follow_selection()

    @Slot()
    def _catch_up(self) -> None:
        self.refresh()
        self.kinds.refresh()

    def _begin_anew(self) -> None:
        """Forget what was sought, lit and refused in the part that was there before."""
        for piece in (self.search, self.filter):
            piece.blockSignals(True)
        self.search.clear()
        self.filter.setCurrentIndex(0)
        for piece in (self.search, self.filter):
            piece.blockSignals(False)
        self.model.find = self.model.only = ""
        self._clashes = ()
        self._refused("")
        self.pointed.emit(())

    @Slot()
    def refresh(self) -> None:
        """Show the board's rows."""
        lines = self.model.lines
        self._following = True
        try:
            self.model.refresh()
            self.parameters.refresh()
            self.patterns.refresh()
        finally:
            self._following = False
        self._show_clash()
        if [key_of(line) for line in lines] != [key_of(line) for line in self.model.lines]:
            self._follow_selection()
        else:
            self._show_mendings()

    def _show_clash(self) -> None:
        """Bring the rows of a clash into view that was not there before."""
        report = self.board.report
        clashes = (*report.clashes, *((name,) for name in report.unreached))
        fresh = [name for clash in clashes if clash not in self._clashes for name in clash]
        self._clashes = clashes
        if fresh:
            self.table.bring(self._lines(fresh))

    def _lines(self, names: Iterable[str]) -> list[int]:
        wanted = set(names)
        return [n for n, line in enumerate(self.model.lines) if key_of(line) in wanted]

    def _follow_selection(self) -> None:
        """Select the rows of selected bindings, and of those on the selected geometry.

        Where no binding is meant itself they are lit faintly.
        """
        if self._following:
            return
        self._following = True
        try:
            selection = self.board.bench.selection
            rows = self._lines(find(self.model.rows, selection.ids))
            self.table.light(strongly=bool(selection.bindings(self.board.part)))
            self.table.clearSelection()
            flags = self.table.selectionModel()
            mode = QItemSelectionModel.SelectionFlag
            for n in rows:
                flags.select(self.model.index(n, 0), mode.Select | mode.Rows)
            if rows or not self._clashes:
                self.table.bring(rows)
        finally:
            self._following = False
        self._show_mendings()

    def show_used(self, names: Iterable[str]) -> None:
        """Light the rows of bindings that something is drawn from; none puts the lights out."""
        self._following = True
        try:
            self.table.light(strongly=False)
            self.table.clearSelection()
            flags, mode = self.table.selectionModel(), QItemSelectionModel.SelectionFlag
            rows = self._lines(names)
            for n in rows:
                flags.select(self.model.index(n, 0), mode.Select | mode.Rows)
            self.table.bring(rows)
        finally:
            self._following = False

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
        if KINDS[self.board.part.bindings[name].kind].quantity is not None:
            index = self.model.index(row, FIELDS.index("value"))
            self.table.setCurrentIndex(index)
            self.table.setFocus()
            self.table.edit(index)
            self.typing.lend()  # whoever pressed a kind has not gone to the table

    # What the person does.

    @Slot()
    def _filtered(self) -> None:
        self.model.find = self.search.text()
        self.model.only = str(self.filter.currentData() or "")
        self.refresh()

    @Slot(QModelIndex)
    def _point(self, index: QModelIndex) -> None:
        row = self.model.at(index.row())
        if row is not None:
            self.pointed.emit((row.id, *self.board.part.bindings[row.id].of))

    @Slot()
    def _selected(self) -> None:
        if self._following:
            return
        names = self.chosen()
        self._following = True
        try:
            if names:
                self.table.light(strongly=True)
                self.board.bench.select(names)
                lit = [i for name in names for i in self.board.part.bindings[name].of]
                self.pointed.emit((*names, *lit))
        finally:
            self._following = False
        self._show_mendings()

    def chosen(self) -> list[str]:
        """Return the bindings of the selected rows."""
        rows = sorted(index.row() for index in self.table.selectionModel().selectedRows())
        return [row.id for n in rows if (row := self.model.at(n)) is not None]

    @Slot(int)
    def _move(self, way: int) -> None:
        names = self.chosen()
        here = self.model.row_of(names[0]) if len(names) == 1 else None
        if here is None:
            return
        beside = self.model.at(here + way)  # a heading ends its section
        if beside is not None:
            place = list(self.board.part.bindings).index(beside.id)
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
        troubled += [row.id for row in rows.values() if row.state == "off"
                     and differing(self.board.bench, row.id)]
        name = next(iter([*(n for n in self.chosen() if n in troubled), *troubled]), "")
        self.mending.show_row(rows.get(name))

    @Slot()
    def _entered(self) -> None:
        """Leave the keyboard to a tool in hand, unless the next field is open already."""
        typed = isinstance(QApplication.focusWidget(), QLineEdit)
        if self.board.tool.name != PICKING and not typed:
            self.left.emit()

    def leaveEvent(self, event: object) -> None:
        """Put the lights out."""
        self.pointed.emit(())
