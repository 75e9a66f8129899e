"""What the desk's tables share: columns with titles that teach, and tables a few rows high."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QSize,
    Qt,
    Signal,
    Slot,
)
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from sketcher.board.board import Board
from sketcher.desk.keys import begins_typing
from sketcher.desk.panes.typing_delegate import TypingDelegate

Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()


class ColumnModel(QAbstractTableModel):
    """A table whose columns have a title and a sentence about it; `columns` holds both."""

    columns: Sequence[tuple[str, str]] = ()

    def __init__(self, board: Board, parent: QObject) -> None:
        super().__init__(parent)
        self.board = board

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of columns."""
        return 0 if parent.isValid() else len(self.columns)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return a column's title and what it teaches."""
        if orientation != Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self.columns[section][0]
        return self.columns[section][1] if role == Qt.ItemDataRole.ToolTipRole else None


class ShortTable(QTableView):
    """A table as high as its rows, up to a few, whose cells are typed into.

    Signals
    -------
    refused(str)
        Why an input was refused, or an empty text once one was taken.
    """

    refused = Signal(str)

    def __init__(
        self, model: QAbstractTableModel, try_text: Callable[[Index, str], str], name: str,
        most: int, parent: QWidget,
    ) -> None:
        super().__init__(parent)
        self.most = most
        self._high = 0
        self.setModel(model)
        self.setAccessibleName(name)
        self.horizontalHeader().setAccessibleName(f"Columns of the {name.lower()}")
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 5)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.typing = TypingDelegate(try_text, self)
        self.typing.refused.connect(self.refused)
        self.setItemDelegate(self.typing)
        model.modelReset.connect(self._fit)
        self._fit()

    def keeps_key(self, event: QKeyEvent) -> bool:
        """Keep what is typed into a cell; see `PaneKeys`."""
        index = self.currentIndex()
        return index.isValid() and begins_typing(event) \
            and bool(index.flags() & Qt.ItemFlag.ItemIsEditable)

    @Slot()
    def _fit(self) -> None:
        """Be as high as the rows need, up to a few; without rows, be away."""
        shown = min(self.model().rowCount(), self.most)
        line = self.verticalHeader().defaultSectionSize()
        head = self.horizontalHeader().sizeHint().height() + 4
        self._high = head + shown * line
        self.setMinimumHeight(head + min(shown, 1) * line)  # in a low window it scrolls
        self.setMaximumHeight(self._high)
        self.updateGeometry()
        self.setVisible(shown > 0)

    def sizeHint(self) -> QSize:
        """Return the height of all rows that are shown at once."""
        return QSize(super().sizeHint().width(), self._high)
