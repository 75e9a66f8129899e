"""The ledger pane: parameters above, what can be bound, every binding, and what would mend it."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QItemSelectionModel, QModelIndex, QObject, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QAction, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QTableView,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from sketcher.board.board import Board
from sketcher.board.ledger import find
from sketcher.board.ledger_edit import Choice, choices, drop, make, reorder
from sketcher.board.mending import Offer, offers, partners, take
from sketcher.board.notice import PART_REASONS, Change
from sketcher.desk.looks import Look
from sketcher.desk.panes.ledger_model import FIELDS, LedgerModel
from sketcher.desk.panes.parameter_table import ParameterTable
from sketcher.desk.panes.typing_delegate import TypingDelegate
from sketcher.desk.scene.signs import sign_icon
from sketcher.part.value import Part

KIND_COLUMNS = 4
MOST_OFFERS = 3
FILTERS = {
    "": "All", "dimensions": "Dimensions", "references": "References", "trouble": "Trouble",
}
# Shares of the table's width.
SHARES = {
    "id": 10, "kind": 9, "of": 20, "value": 18, "actual": 17, "residual": 11, "drives": 8,
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
        self._mended: tuple[Part, str] | None = None
        self.setAccessibleName("Ledger")
        self._late = QTimer(self)
        self._late.setSingleShot(True)
        self._late.timeout.connect(self.refresh)
        stack = QVBoxLayout(self)
        stack.setContentsMargins(4, 4, 4, 4)
        stack.setSpacing(4)
        self.parameters = ParameterTable(board, self)
        stack.addWidget(self.parameters)
        stack.addWidget(self._kinds())
        stack.addLayout(self._finder())
        stack.addWidget(self._table(), 1)
        self.reason = QLabel("", self)
        self.reason.setObjectName("reason")
        self.reason.setWordWrap(True)
        self.reason.setAccessibleName("Why the input was refused")
        self.reason.hide()
        stack.addWidget(self.reason)
        stack.addWidget(self._mending())
        self.parameters.refused.connect(self._refused)

    # Building.

    def _kinds(self) -> QWidget:
        self.kinds = QWidget(self)
        self.kinds.setAccessibleName("Kinds that fit the selection")
        self._kind_grid = QGridLayout(self.kinds)
        self._kind_grid.setContentsMargins(0, 0, 0, 0)
        self._kind_grid.setSpacing(2)
        self._hint = QLabel("Select geometry to bind it.", self.kinds)
        self._hint.setObjectName("faint")
        self._kind_grid.addWidget(self._hint, 0, 0, 1, KIND_COLUMNS)
        self._kind_buttons: dict[str, QToolButton] = {}
        return self.kinds

    def _finder(self) -> QHBoxLayout:
        line = QHBoxLayout()
        self.find = QLineEdit(self)
        self.find.setPlaceholderText("Find a binding")
        self.find.setClearButtonEnabled(True)
        self.find.setAccessibleName("Find a binding")
        self.filter = QComboBox(self)
        self.filter.setAccessibleName("Which bindings are listed")
        for name, label in FILTERS.items():
            self.filter.addItem(label, name)
        self.find.textChanged.connect(self._filtered)
        self.filter.currentIndexChanged.connect(self._filtered)
        line.addWidget(self.find, 1)
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

    def _mending(self) -> QWidget:
        self.mending = QWidget(self)
        self.mending.setAccessibleName("What would mend it")
        self._mend_stack = QVBoxLayout(self.mending)
        self._mend_stack.setContentsMargins(0, 0, 0, 0)
        self._mend_stack.setSpacing(2)
        self.mending.hide()
        return self.mending

    def wear(self, look: Look) -> None:
        """Draw signs in the colours of a look."""
        self.look = look
        self.model.look = look
        for kind, button in self._kind_buttons.items():
            button.setIcon(sign_icon(kind, look.text))
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
            self._show_kinds()

    @Slot()
    def refresh(self) -> None:
        """Show the board's rows."""
        self._following = True
        try:
            self.model.refresh()
            self.parameters.refresh()
        finally:
            self._following = False
        self._show_mendings()

    def _follow_selection(self) -> None:
        """Select the rows of selected bindings, and of those on the selected geometry."""
        if self._following:
            return
        self._following = True
        try:
            names = set(find(self.model.rows, self.board.selection.ids))
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

    def _show_kinds(self) -> None:
        """Offer a button for each kind that fits the selection."""
        fitting = {choice.kind: choice for choice in choices(self.board)}
        if list(self._kind_buttons) == list(fitting):
            return
        for button in self._kind_buttons.values():
            self._kind_grid.removeWidget(button)
            button.hide()
            button.deleteLater()
        self._kind_buttons = {}
        for place, (kind, choice) in enumerate(fitting.items()):
            button = self._kind_button(choice)
            self._kind_grid.addWidget(button, place // KIND_COLUMNS, place % KIND_COLUMNS)
            self._kind_buttons[kind] = button
        self._hint.setVisible(not fitting)

    def _kind_button(self, choice: Choice) -> QToolButton:
        kind = choice.kind
        button = QToolButton(self.kinds)
        button.setText(kind)
        button.setIcon(sign_icon(kind, self.look.text))
        button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        button.setToolTip(f"<p><b>{kind}</b><br>{choice.hint}</p>")
        button.setAccessibleName(f"Bind: {kind}")
        button.setAccessibleDescription(choice.hint)
        button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        button.clicked.connect(partial(self.bind, kind))
        return button

    def kind_actions(self, parent: QObject) -> list[QAction]:
        """Return an action for each kind that fits the selection, for a context menu."""
        made = []
        for choice in choices(self.board):
            icon = sign_icon(choice.kind, self.look.text)
            action = QAction(icon, f"Bind: {choice.kind}", parent)
            action.triggered.connect(partial(self.bind, choice.kind))
            made.append(action)
        return made

    def bind(self, kind: str, checked: bool = False) -> None:
        """Bind the selection by a kind; a dimension's field opens for its value."""
        why = make(self.board, kind)
        self._refused(why)
        made = self.board.selection.bindings(self.board.part)
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
        self.model.find = self.find.text()
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
                self.board.select(names)
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
            self._refused(reorder(self.board, names[0], place))
            row = self.model.row_of(names[0])
            if row is not None:
                self.table.selectRow(row)

    @Slot()
    def _drop(self) -> None:
        names = self.chosen()
        if names:
            self._refused(drop(self.board, *names))

    @Slot(str)
    def _refused(self, why: str) -> None:
        self.reason.setText(why)
        self.reason.setVisible(bool(why))

    def _show_mendings(self) -> None:
        """Say with which others a row is in trouble, and offer what would mend it."""
        name = next(iter([*self.chosen(), *self._troubled()]), "")
        key = (self.board.part, name)
        if self._mended is not None and self._mended[0] is key[0] and self._mended[1] == name:
            return
        self._mended = key
        while self._mend_stack.count():
            item = self._mend_stack.takeAt(0)
            widget = item.widget() if item is not None else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        row = self.model.row_of(name) if name else None
        ways = offers(self.board, name) if row is not None else ()
        self.mending.setVisible(bool(ways))
        if row is None or not ways:
            return
        words = QLabel(self._trouble(row), self.mending)
        words.setWordWrap(True)
        words.setObjectName("reason")
        self._mend_stack.addWidget(words)
        for offer in ways[:MOST_OFFERS]:
            button = QPushButton(offer.label, self.mending)
            button.setToolTip(offer.label)
            button.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
            button.clicked.connect(partial(self._mend, offer))
            self._mend_stack.addWidget(button)

    def _trouble(self, row: int) -> str:
        """Return the sentence that says what is wrong with a row, and with which others."""
        shown = self.model.rows[row]
        others = partners(self.board, shown.id) if shown.state == "doubled" else ()
        more = f" It follows from {', '.join(others)}." if others else ""
        return f"{shown.id} {shown.reason}.{more}"

    def _troubled(self) -> list[str]:
        return [row.id for row in self.model.rows if row.state in ("clashing", "doubled")]

    def _mend(self, offer: Offer, checked: bool = False) -> None:
        take(self.board, offer)

    def leaveEvent(self, event: object) -> None:
        """Put the lights out."""
        self.pointed.emit(())
