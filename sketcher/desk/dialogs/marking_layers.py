"""Layers of which the hand-ins do not tell what they are for: asked once, kept in the rubric."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from sketcher.board.files.marking_book import ClassBook, LayerRow
from sketcher.board.files.marking_words import LAYER_ROLES
from sketcher.part.value import frozen

NAME, COUNT, WHY, ANSWER = range(4)
OPEN = "As taken"
MOST_ROWS = 6
"""Rows that are seen without scrolling."""


class LayerTable(QTableWidget):
    """A layer a row; the answer is chosen in the last column."""

    def __init__(self, book: ClassBook, parent: QWidget) -> None:
        super().__init__(0, 4, parent)
        self.book = book
        self._shown: object = None
        self.setAccessibleName("Layers that are asked about")
        self.setHorizontalHeaderLabels(["Layer", "Hand-ins", "Taken for, and why", "It is for"])
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.verticalHeader().hide()
        head = self.horizontalHeader()
        head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        head.setSectionResizeMode(WHY, QHeaderView.ResizeMode.Stretch)

    def follow(self) -> None:
        """Show what is asked, and what was answered."""
        rows = self.book.layers()
        if rows == self._shown:
            return
        self._shown = rows
        self.setVisible(bool(rows))
        self.setRowCount(len(rows))
        for place, row in enumerate(rows):
            count = str(row.asked.hand_ins) if row.asked is not None else ""
            for column, text in ((NAME, row.layer), (COUNT, count), (WHY, taken_words(row))):
                item = QTableWidgetItem(text)
                item.setToolTip(text)
                self.setItem(place, column, item)
            box = QComboBox(self)
            box.setAccessibleName(f"What the layer {row.layer} is for")
            box.addItem(OPEN, "")
            for role, words in LAYER_ROLES.items():
                box.addItem(words, role)
            box.setCurrentIndex(max(box.findData(row.answer), 0))
            box.setProperty("layer", row.layer.lower())
            box.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            box.activated.connect(self._answered)
            self.setCellWidget(place, ANSWER, box)
            self.setRowHeight(place, box.sizeHint().height() + 4)
        tall = sum(self.rowHeight(place) for place in range(min(len(rows), MOST_ROWS)))
        self.setFixedHeight(self.horizontalHeader().sizeHint().height() + tall
                            + 2 * self.frameWidth() + 2)

    @Slot()
    def _answered(self) -> None:
        box = self.sender()
        assert isinstance(box, QComboBox)
        layers = dict(self.book.rubric.layers)
        layers.pop(box.property("layer"), None)
        if box.currentData():
            layers[box.property("layer")] = box.currentData()
        self.book.use_rubric(replace(self.book.rubric, layers=frozen(layers)))


def taken_words(row: LayerRow) -> str:
    """Return what a layer was taken for, and why; nothing where nobody asked."""
    return f"{LAYER_ROLES[row.asked.role]}: {row.asked.reason}" if row.asked else ""
