"""The table of parameters: name, expression, value; the last row takes a new one."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject, Qt, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from sketcher.board.board import Board
from sketcher.board.ledger.ledger_edits import add_parameter, drop_parameter, set_parameter_cell
from sketcher.board.ledger.ledger_rows import parameter_rows
from sketcher.desk.panes.columns import NOWHERE, ColumnModel, Index, ShortTable

COLUMNS = (
    ("Parameter", "Name; letters, digits and _, a letter first."),
    ("Expression", "A number, or arithmetic with other parameters: 96 + 2*wall."),
    ("Result", "What it comes to."),
)
SHOWN_ROWS = 4


class ParameterModel(ColumnModel):
    """Parameters as rows; changes are edits of the part."""

    columns = COLUMNS

    def __init__(self, board: Board, parent: QObject) -> None:
        super().__init__(board, parent)
        self.rows: tuple[tuple[str, str, str], ...] = ()
        self._new = ""

    def refresh(self) -> None:
        """Take the part's parameters over."""
        rows = tuple(
            (row.name, row.text, row.value or "?") for row in parameter_rows(self.board.bench)
        )
        if rows != self.rows:
            self.beginResetModel()
            self.rows = rows
            self.endResetModel()

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return one row more than there are parameters."""
        return 0 if parent.isValid() else len(self.rows) + 1

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Return which cells can be typed into: all but the values."""
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        fresh = index.row() == len(self.rows)
        if index.column() == 0 or (index.column() == 1 and (not fresh or self._new)):
            return flags | Qt.ItemFlag.ItemIsEditable
        return flags

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows."""
        if not index.isValid():
            return None
        fresh = index.row() == len(self.rows)
        if role == Qt.ItemDataRole.EditRole:
            return (self._new, "", "")[index.column()] if fresh else self._cell(index)
        if role == Qt.ItemDataRole.DisplayRole:
            new = (self._new or "new\N{HORIZONTAL ELLIPSIS}", "", "")
            return new[index.column()] if fresh else self._cell(index)
        return None

    def _cell(self, index: Index) -> str:
        return self.rows[index.row()][index.column()]

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Change a cell."""
        return role == Qt.ItemDataRole.EditRole and not self.try_text(index, str(value))

    def try_text(self, index: Index, text: str) -> str:
        """Change a cell; return why not, or an empty text when it is done."""
        text = text.strip()
        if index.row() == len(self.rows):
            return self._fresh(index.column(), text)
        name, expression, _ = self.rows[index.row()]
        if text == (name, expression)[index.column()]:
            return ""
        field = "name" if index.column() == 0 else "text"
        return set_parameter_cell(self.board.bench, name, field, text)

    def _fresh(self, column: int, text: str) -> str:
        if column == 0:
            from sketcher.errors import QuantityError
            from sketcher.quantity.parameters import check_name

            if not text:
                return ""
            name, _, expression = (word.strip() for word in text.partition("="))
            try:
                check_name(name)
            except QuantityError as error:
                return error.reason
            if expression:
                return add_parameter(self.board.bench, name, expression)
            self._new = name
            return ""
        if not text:
            return f"{self._new} needs an expression; type a number, or Esc leaves it"
        why = add_parameter(self.board.bench, self._new, text)
        if not why:
            self._new = ""
        return why

    def drop(self, row: int) -> str:
        """Remove a parameter; return why not."""
        return drop_parameter(self.board.bench, self.rows[row][0]) if row < len(self.rows) else ""


class ParameterTable(ShortTable):
    """The table; Delete removes a row."""

    def __init__(self, board: Board, parent: QWidget) -> None:
        self.rows = ParameterModel(board, parent)
        super().__init__(self.rows, self.rows.try_text, "Parameters", SHOWN_ROWS, parent)
        self.typing.entered.connect(self._go_on)

    @Slot()
    def _go_on(self) -> None:
        """Go on to the expression of a new name; one that was left otherwise waits."""
        row = len(self.rows.rows)
        if self.rows.flags(self.rows.index(row, 1)) & Qt.ItemFlag.ItemIsEditable:
            self.setCurrentIndex(self.rows.index(row, 1))
            self.edit(self.rows.index(row, 1))

    def refresh(self) -> None:
        """Show the part's parameters."""
        self.rows.refresh()

    def keeps_key(self, event: QKeyEvent) -> bool:
        """Keep Delete for a parameter, whose name wants a double press; see `PaneKeys`."""
        index = self.currentIndex()
        there = index.isValid() and index.row() < len(self.rows.rows)
        if event.key() == Qt.Key.Key_Delete:
            return there
        return super().keeps_key(event) and not (there and index.column() == 0)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Remove a parameter with Delete."""
        if event.key() == Qt.Key.Key_Delete and self.currentIndex().isValid():
            self.refused.emit(self.rows.drop(self.currentIndex().row()))
        else:
            super().keyPressEvent(event)
