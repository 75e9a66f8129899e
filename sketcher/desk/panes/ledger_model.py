"""The ledger as a Qt table: dimensions, then relations, edited in place through the board."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtGui import QColor, QFont, QIcon

from sketcher.board.board import Board
from sketcher.board.ledger.ledger_edits import set_cell, set_driving
from sketcher.board.ledger.ledger_rows import (
    FOLLOWS,
    LedgerRow,
    filtered,
    ledger_rows,
    parted,
)
from sketcher.desk.looks import Look
from sketcher.desk.scene.signs import sign_icon

Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()
COLUMNS = (
    ("id", "Name", "Name of the binding; double-click to change it."),
    ("of", "Binding", "What it says, with the sign that the sheet has for it."),
    ("value", "Value", "Value as typed: a number, a fraction, an expression with parameters. "
     "A reference whose value is taken away says what it measures."),
    ("actual", "Actual", "What is measured now."),
    ("residual", "Residual", "Actual minus wanted."),
    ("drives", "Drives", "On: it drives the half. Off: a reference, checked against its value, or "
     "following where it has none."),
    ("tolerance", "Tol.", "Its own tolerance, such as +0.1 -0.2 or 0.1 for both."),
)
FIELDS = tuple(column[0] for column in COLUMNS)
EDITABLE = {"id", "value", "tolerance"}


class LedgerModel(QAbstractTableModel):
    """Rows of the ledger; everything that is typed goes through `set_cell`.

    `rows` are the bindings as shown; `lines` what the table shows: the same, each section under its
    heading. Where there is no room for residuals they are `joined` to what is measured, and only
    those that are not 0 are told.
    """

    def __init__(self, board: Board, look: Look, parent: QObject) -> None:
        super().__init__(parent)
        self.board = board
        self.look = look
        self.rows: tuple[LedgerRow, ...] = ()
        self.lines: tuple[LedgerRow | str, ...] = ()
        self.find = ""
        self.only = ""
        self.joined = False
        self.faint = False  # the ground of selected rows is that of rows which only hang together
        self._icons: dict[tuple[str, str, str], QIcon] = {}

    def refresh(self) -> None:
        """Take the board's rows over; where only cells changed the view keeps its place."""
        sections = parted(filtered(ledger_rows(self.board.bench), self.find, self.only))
        lines: list[LedgerRow | str] = []
        for title, rows in sections:
            lines += [f"{title}  \N{MIDDLE DOT}  {len(rows)}", *rows]
        same = [key_of(line) for line in lines] == [key_of(line) for line in self.lines]
        changed = [n for n, line in enumerate(lines) if line != self.lines[n]] if same else []
        if not same:
            self.beginResetModel()
        self.lines = tuple(lines)
        self.rows = tuple(row for _, rows in sections for row in rows)
        if not same:
            self.endResetModel()
        elif changed:
            last = len(COLUMNS) - 1
            self.dataChanged.emit(self.index(changed[0], 0), self.index(changed[-1], last))

    def row_of(self, name: str) -> int | None:
        """Return the line of a binding, or None while it is filtered away."""
        return next((n for n, line in enumerate(self.lines)
                     if isinstance(line, LedgerRow) and line.id == name), None)

    def at(self, line: int) -> LedgerRow | None:
        """Return the binding of a line; None for a heading."""
        found = self.lines[line] if 0 <= line < len(self.lines) else ""
        return found if isinstance(found, LedgerRow) else None

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of lines."""
        return 0 if parent.isValid() else len(self.lines)

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
        row, field = self.at(index.row()), FIELDS[index.column()]
        if row is None:
            return Qt.ItemFlag.ItemIsEnabled
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        if field == "drives" and row.quantity is not None:
            return flags | Qt.ItemFlag.ItemIsUserCheckable
        if field == "id" or (field in EDITABLE and row.quantity is not None):
            return flags | Qt.ItemFlag.ItemIsEditable
        return flags

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows."""
        if not index.isValid():
            return None
        row, field = self.at(index.row()), FIELDS[index.column()]
        if row is None:
            return self._heading(index, role)
        roles = Qt.ItemDataRole
        if role in (roles.DisplayRole, roles.EditRole):
            return self.text(row, field)
        if role == roles.CheckStateRole and field == "drives" and row.quantity is not None:
            return Qt.CheckState.Checked if row.drives else Qt.CheckState.Unchecked
        if role == roles.DecorationRole and field == "of":
            return self._icon(row)
        if role == roles.ForegroundRole:
            return self._colour(row, field)
        if role == roles.FontRole and field == "value":
            return strong()
        if role == roles.ToolTipRole and field == "of":  # which may be cut short
            return f"{row.said}\n{self._words(row, field)}"
        if role in (roles.ToolTipRole, roles.AccessibleTextRole):
            return self._words(row, field)
        return None

    def _heading(self, index: Index, role: int) -> Any:
        roles = Qt.ItemDataRole
        if role in (roles.DisplayRole, roles.AccessibleTextRole) and index.column() == 0:
            return self.lines[index.row()]
        if role == roles.FontRole:
            return strong()
        if role == roles.BackgroundRole:
            return QColor(self.look.pane)
        return None

    def text(self, row: LedgerRow, field: str) -> str | None:
        """Return the words of a cell."""
        if field == "drives":
            return None
        if field == "of":
            return row.said
        if field == "actual" and self.joined and row.residual_text not in ("", "0"):
            return f"{row.actual_text} ({row.residual_text})"
        name = f"{field}_text" if field in ("actual", "residual") else field
        return str(getattr(row, name))

    def _colour(self, row: LedgerRow, field: str) -> QColor | None:
        """Return the colour of trouble, or the faint one of a residual that is none."""
        if row.state != "ok":
            return QColor(self.look.bad)
        still = field == "residual" and row.residual_text == "0"
        return QColor(self.look.edge) if still else None

    def _words(self, row: LedgerRow, field: str) -> str:
        if field == "drives":
            if row.drives:
                return "drives the half"
            return ("reference: says what it measures" if row.value == FOLLOWS
                    else "reference: only checked")
        text = f"{row.label}: {row.of}" if field == "of" else self.text(row, field) or ""
        return f"{text}: {row.reason}" if row.reason else text

    def _icon(self, row: LedgerRow) -> QIcon:
        colour = self.look.bad if row.state != "ok" else self.look.text
        chosen = self.look.text if self.faint else self.look.chosen_text
        key = (row.kind, colour, chosen)
        if key not in self._icons:
            self._icons[key] = sign_icon(row.kind, colour, chosen)
        return self._icons[key]

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Switch between driving and reference; texts go through `try_text`."""
        row = self.at(index.row()) if index.isValid() else None
        if role == Qt.ItemDataRole.CheckStateRole and row is not None:
            on = Qt.CheckState(value) == Qt.CheckState.Checked
            why = set_driving(self.board.bench, row.id, on)
            if why:  # a switch has no field that could stay open with the reason
                self.board.bench.say(f"{row.id}: {why}.", "error", row.id)
            return not why
        if role == Qt.ItemDataRole.EditRole and row is not None:
            return not self.try_text(index, str(value))
        return False

    def try_text(self, index: Index, text: str) -> str:
        """Change a cell; return why not, or an empty text when it is done."""
        row, field = self.at(index.row()), FIELDS[index.column()]
        if row is None or text == str(getattr(row, field)):
            return ""
        return set_cell(self.board.bench, row.id, field, text)


def key_of(line: LedgerRow | str) -> str:
    """Return what tells two lines apart: the binding's id, or the heading's title."""
    return line.id if isinstance(line, LedgerRow) else line.split("  ")[0]


def strong() -> QFont:
    """Return what makes a cell's font strong; family and size come from the table."""
    font = QFont()
    font.setBold(True)
    return font
