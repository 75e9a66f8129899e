"""The table of patterns: every step, count and angle, changed in place; hidden without patterns."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QModelIndex, QObject, Qt, Slot
from PySide6.QtWidgets import QWidget

from sketcher.board.board import Board
from sketcher.board.ledger.ledger_edits import set_cell
from sketcher.board.ledger.spacing_rows import SpacingRow, spacing_rows
from sketcher.desk.panes.columns import NOWHERE, ColumnModel, Index, ShortTable

COLUMNS = (
    ("Pattern", "Its id, and the number that the row holds."),
    ("Value", "A length, an angle or an expression; a whole number for a count."),
    ("Result", "What it comes to."),
)
HINTS = {
    "step": "step from hole to hole along a row", "row step": "step from row to row",
    "turn": "angle of the rows from level", "places": "number of places, the drawn one included",
    "span": "angle that the places spread over, 360 for the full turn",
}
VALUE = 1
SHOWN_ROWS = 5


class PatternModel(ColumnModel):
    """Numbers of patterns as rows; changes are edits of the part."""

    columns = COLUMNS

    def __init__(self, board: Board, parent: QObject) -> None:
        super().__init__(board, parent)
        self.rows: tuple[SpacingRow, ...] = ()

    def refresh(self) -> None:
        """Take the part's patterns over; where only cells changed the view keeps its place."""
        rows = spacing_rows(self.board.bench)
        if [row.id for row in rows] == [row.id for row in self.rows]:
            changed, self.rows = rows != self.rows, rows
            if changed:
                self.dataChanged.emit(self.index(0, 0), self.index(len(rows) - 1, 2))
            return
        self.beginResetModel()
        self.rows = rows
        self.endResetModel()

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of rows."""
        return 0 if parent.isValid() else len(self.rows)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Return which cells can be typed into: the values."""
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        return flags | Qt.ItemFlag.ItemIsEditable if index.column() == VALUE else flags

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows."""
        if not index.isValid():
            return None
        row = self.rows[index.row()]
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole):
            return (f"{row.pattern} {row.label}", row.text, row.value)[index.column()]
        if role == Qt.ItemDataRole.ToolTipRole:
            hint = HINTS.get(row.label, row.label)
            return f"{row.pattern} repeats {', '.join(row.curves)}: {hint}"
        return None

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Change a value."""
        return role == Qt.ItemDataRole.EditRole and not self.try_text(index, str(value))

    def try_text(self, index: Index, text: str) -> str:
        """Change a value; return why not, or an empty text when it is done."""
        row = self.rows[index.row()]
        if text.strip() == row.text:
            return ""
        return set_cell(self.board.bench, row.id, "value", text)


class PatternTable(ShortTable):
    """The table; a press selects the curves that the pattern repeats."""

    def __init__(self, board: Board, parent: QWidget) -> None:
        self.board = board
        self.rows = PatternModel(board, parent)
        super().__init__(self.rows, self.rows.try_text, "Patterns", SHOWN_ROWS, parent)
        self.clicked.connect(self._pressed)

    @Slot(QModelIndex)
    def _pressed(self, index: QModelIndex) -> None:
        self.board.bench.select(self.rows.rows[index.row()].curves)

    def refresh(self) -> None:
        """Show the part's patterns."""
        self.rows.refresh()
