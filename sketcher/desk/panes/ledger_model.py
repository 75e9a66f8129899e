"""The ledger as a Qt table: one row a binding, edited in place through the board."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtGui import QColor, QIcon

from sketcher.board.board import Board
from sketcher.board.ledger.ledger_edits import set_cell, set_driving
from sketcher.board.ledger.ledger_rows import LedgerRow, filtered, ledger_rows
from sketcher.desk.looks import Look
from sketcher.desk.scene.signs import sign_icon

Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()
COLUMNS = (
    ("id", "Name", "Name of the binding; double-click to change it."),
    ("kind", "Kind", "What the binding says."),
    ("of", "Between", "Points and curves that it is between."),
    ("value", "Value", "Value as typed: a number, a fraction, an expression with parameters."),
    ("actual", "Actual", "What is measured now."),
    ("residual", "Residual", "Actual minus wanted."),
    ("drives", "Drives", "On: it drives the half. Off: a reference, only checked."),
    ("tolerance", "Tol.", "Its own tolerance, such as +0.1 -0.2 or 0.1 for both."),
)
FIELDS = tuple(column[0] for column in COLUMNS)
EDITABLE = {"id", "value", "tolerance"}


class LedgerModel(QAbstractTableModel):
    """Rows of the ledger; everything that is typed goes through `set_cell`."""

    def __init__(self, board: Board, look: Look, parent: QObject) -> None:
        super().__init__(parent)
        self.board = board
        self.look = look
        self.rows: tuple[LedgerRow, ...] = ()
        self.find = ""
        self.only = ""
        self._icons: dict[tuple[str, str], QIcon] = {}

    def refresh(self) -> None:
        """Take the board's rows over; where only cells changed the view keeps its place."""
        rows = filtered(ledger_rows(self.board.bench), self.find, self.only)
        if [row.id for row in rows] == [row.id for row in self.rows]:
            changed = [n for n, row in enumerate(rows) if row != self.rows[n]]
            self.rows = rows
            if changed:
                last = len(COLUMNS) - 1
                self.dataChanged.emit(self.index(changed[0], 0), self.index(changed[-1], last))
            return
        self.beginResetModel()
        self.rows = rows
        self.endResetModel()

    def row_of(self, name: str) -> int | None:
        """Return the row of a binding, or None while it is filtered away."""
        return next((n for n, row in enumerate(self.rows) if row.id == name), None)

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of rows."""
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of columns."""
        return 0 if parent.isValid() else len(COLUMNS)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return a column's title and what it teaches."""
        if orientation != Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return COLUMNS[section][1]
        return COLUMNS[section][2] if role == Qt.ItemDataRole.ToolTipRole else None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Return which cells can be typed into or switched."""
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        row, field = self.rows[index.row()], FIELDS[index.column()]
        if field == "drives" and row.quantity is not None:
            return flags | Qt.ItemFlag.ItemIsUserCheckable
        if field == "id" or (field in EDITABLE and row.quantity is not None):
            return flags | Qt.ItemFlag.ItemIsEditable
        return flags

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows."""
        if not index.isValid():
            return None
        row, field = self.rows[index.row()], FIELDS[index.column()]
        roles = Qt.ItemDataRole
        if role in (roles.DisplayRole, roles.EditRole):
            return self._text(row, field)
        if role == roles.CheckStateRole and field == "drives" and row.quantity is not None:
            return Qt.CheckState.Checked if row.drives else Qt.CheckState.Unchecked
        if role == roles.DecorationRole and field == "kind":
            return self._icon(row)
        if role == roles.ForegroundRole and row.state != "ok":
            return QColor(self.look.bad)
        if role in (roles.ToolTipRole, roles.AccessibleTextRole):
            return self._words(row, field)
        return None

    def _text(self, row: LedgerRow, field: str) -> str | None:
        if field in ("drives", "kind"):
            return None
        if field == "of":
            return " ".join(row.ids)
        name = f"{field}_text" if field in ("actual", "residual") else field
        return str(getattr(row, name))

    def _words(self, row: LedgerRow, field: str) -> str:
        if field == "kind":
            return row.label
        if field == "drives":
            return "drives the half" if row.drives else "reference: only checked"
        text = row.of if field == "of" else self._text(row, field) or ""
        return f"{text}: {row.reason}" if row.reason else text

    def _icon(self, row: LedgerRow) -> QIcon:
        colour = self.look.bad if row.state != "ok" else self.look.text
        key = (row.kind, colour)
        if key not in self._icons:
            self._icons[key] = sign_icon(row.kind, colour, self.look.chosen_text)
        return self._icons[key]

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Switch between driving and reference; texts go through `try_text`."""
        if role == Qt.ItemDataRole.CheckStateRole and index.isValid():
            on = Qt.CheckState(value) == Qt.CheckState.Checked
            name = self.rows[index.row()].id
            why = set_driving(self.board.bench, name, on)
            if why:  # a switch has no field that could stay open with the reason
                self.board.bench.say(f"{name}: {why}.", "error", name)
            return not why
        if role == Qt.ItemDataRole.EditRole and index.isValid():
            return not self.try_text(index, str(value))
        return False

    def try_text(self, index: Index, text: str) -> str:
        """Change a cell; return why not, or an empty text when it is done."""
        row, field = self.rows[index.row()], FIELDS[index.column()]
        if text == str(getattr(row, field)):
            return ""
        return set_cell(self.board.bench, row.id, field, text)
