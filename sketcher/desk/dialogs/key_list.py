"""Every action with its key and what it does, made from the registry; type to find."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QLineEdit,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from sketcher.board.action_table import Action
from sketcher.desk.dialogs.roomy import RoomyDialog

# What the sheet itself does with keys and pointer, beside the actions.
SHEET = (
    ("Move the pointer by one grid step", "Arrows", "Alt for a tenth of it; Ctrl pans the sheet."),
    ("Go to the next curve", "Shift+Right", "Shift+Left to the one before."),
    ("Go to the next point", "Shift+Up", "Shift+Down to the one before."),
    ("Press at the pointer", "Enter", "The same as the main button of the mouse."),
    ("Type a value", "0 to 9", "Opens a row of the readout; Tab goes to the next one."),
    ("Hold the direction", "Shift", "While drawing, the snapped direction stays."),
    ("Hold the snaps off", "Ctrl", "While drawing, the place is taken as it is."),
    ("Zoom", "Wheel, Page Up, Page Down", "About the pointer."),
    ("Pan", "Middle button, Space", "Drag with the middle button, or hold Space and drag."),
    ("Next pane", "F6", "Sheet, shape tools, ledger, inspection, tools, readout; Shift goes back."),
    ("Use the sheet from a pane", "Letters, Delete, Home, Esc",
     "In lists, too; a cell that is typed into keeps what is typed, a row of the ledger Delete."),
    ("Go back to the sheet from a pane", "Esc", "Once no tool is in hand and nothing selected."),
    ("Help", "F1", "At the tool in hand, or at the finding that is chosen."),
    ("Move a row of the ledger", "Alt+Up, Alt+Down", "The order is that of the paper drawing."),
)


class KeyList(RoomyDialog):
    """A table of what can be done and by which key."""

    def __init__(self, actions: Iterable[Action], parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Keys")
        self.resize(860, 560)
        outer = QVBoxLayout(self)
        self.search = QLineEdit(self)
        self.search.setPlaceholderText("Find")
        self.search.setAccessibleName("Find a key")
        self.search.textChanged.connect(self._find)
        outer.addWidget(self.search)
        rows = [*SHEET, *((a.label, ", ".join(a.keys), a.hint) for a in actions)]
        self.table = QTableWidget(len(rows), 3, self)
        self.table.setAccessibleName("Keys")
        self.table.setHorizontalHeaderLabels(["What", "Key", "How"])
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.verticalHeader().hide()
        self.table.setWordWrap(True)
        for number, row in enumerate(rows):
            for column, text in enumerate(row):
                item = QTableWidgetItem(text)
                item.setToolTip(text)
                self.table.setItem(number, column, item)
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(2, QHeaderView.ResizeMode.Stretch)
        self.table.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        outer.addWidget(self.table)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)

    @Slot(str)
    def _find(self, words: str) -> None:
        wanted = words.lower().split()
        for row in range(self.table.rowCount()):
            cells = (self.table.item(row, column) for column in range(3))
            text = " ".join(cell.text() for cell in cells if cell is not None).lower()
            self.table.setRowHidden(row, not all(word in text for word in wanted))
