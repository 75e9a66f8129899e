"""The repairs of an intake by kind, each with a tick: without it the drawing stays as it is."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, Qt, Signal, Slot
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTreeWidget, QTreeWidgetItem, QWidget

from sketcher.board.files.intake_words import groups, mark, place, small
from sketcher.intake.linework import Repair
from sketcher.part.value import Unit

KIND, NUMBER = Qt.ItemDataRole.UserRole, Qt.ItemDataRole.UserRole + 1
TICKED, OPEN = Qt.CheckState.Checked, Qt.CheckState.Unchecked


class RepairTree(QTreeWidget):
    """Lists what, where and how far; a tick is for one repair or for all of a kind.

    Signals
    -------
    ticked(str, bool)
        Name of a repair, and whether it is to be made.
    kind_ticked(str, bool)
        A kind, and whether it is to be made.
    pointed(int)
        Number of the repair that the keyboard is on, from 1; 0 for none.
    """

    ticked = Signal(str, bool)
    kind_ticked = Signal(str, bool)
    pointed = Signal(int)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._repairs: tuple[Repair, ...] = ()
        self._rows: dict[int, QTreeWidgetItem] = {}
        self._heads: dict[str, QTreeWidgetItem] = {}
        self.setAccessibleName("Repairs")
        self.setAccessibleDescription(
            "Take a tick away with the space bar, and the drawing stays as it is there.")
        self.setColumnCount(3)
        self.setHeaderLabels(["Repair", "Where", "Moved"])
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setUniformRowHeights(True)
        head = self.header()
        head.setStretchLastSection(False)
        head.setSectionResizeMode(0, QHeaderView.ResizeMode.ResizeToContents)
        head.setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
        head.setSectionResizeMode(2, QHeaderView.ResizeMode.ResizeToContents)
        self.itemChanged.connect(self._changed)
        self.currentItemChanged.connect(self._moved)

    def show_repairs(self, repairs: tuple[Repair, ...], unit: Unit) -> None:
        """List repairs; what is open, the row with the keyboard and the place in the list stay.

        It tells nobody: see `current` for the repair that the keyboard is on now.
        """
        current = self.current()
        name = self._repairs[current - 1].name if current else ""
        kind = self._kind_of(self.currentItem())
        shut = {self._kind_of(self.topLevelItem(row)) for row in range(self.topLevelItemCount())
                if not self._open(row)}
        height = self.verticalScrollBar().value()
        self._repairs = repairs
        with QSignalBlocker(self):
            self.clear()
            self._rows, self._heads = {}, {}
            for group in groups(repairs):
                head = QTreeWidgetItem(self, [group.title])
                head.setFirstColumnSpanned(True)
                self._heads[group.kind] = head
                head.setData(0, KIND, group.kind)
                head.setToolTip(0, group.title)
                made = [repairs[number - 1].taken for number in group.numbers]
                head.setCheckState(0, TICKED if all(made) else (
                    Qt.CheckState.PartiallyChecked if any(made) else OPEN))
                for number in group.numbers:
                    self._add(head, number, unit)
                head.setExpanded(group.kind not in shut)
            self._back_to(name, kind)
        self.verticalScrollBar().setValue(height)

    def _open(self, row: int) -> bool:
        item = self.topLevelItem(row)
        return item is not None and item.isExpanded()

    def _add(self, head: QTreeWidgetItem, number: int, unit: Unit) -> None:
        repair = self._repairs[number - 1]
        row = QTreeWidgetItem(head, [mark(repair, number), place(repair, unit),
                                     small(repair.size, unit) or "\N{EN DASH}"])
        row.setData(0, NUMBER, number)
        row.setCheckState(0, TICKED if repair.taken else OPEN)
        words = repair.text if repair.taken else f"{repair.text}; kept as drawn"
        for column in range(3):
            row.setToolTip(column, words)
        row.setData(0, Qt.ItemDataRole.AccessibleDescriptionRole, words)
        self._rows[number] = row

    def _back_to(self, name: str, kind: str) -> None:
        for number, repair in enumerate(self._repairs, 1):
            if repair.name == name:
                self.setCurrentItem(self._rows[number])
                return
        for row in range(self.topLevelItemCount()):
            head = self.topLevelItem(row)
            if head is not None and kind and self._kind_of(head) == kind:
                self.setCurrentItem(head)

    def current(self) -> int:
        """Return the number of the repair that the keyboard is on; 0 for none."""
        item = self.currentItem()
        return int(item.data(0, NUMBER) or 0) if item is not None else 0

    def point_at(self, number: int) -> None:
        """Put the keyboard on a repair and bring it into view."""
        row = self._rows.get(number)
        if row is not None:
            self.expandItem(self._heads[self._repairs[number - 1].kind])
            self.setCurrentItem(row)
            self.scrollToItem(row)

    def _kind_of(self, item: QTreeWidgetItem | None) -> str:
        return str(item.data(0, KIND) or "") if item is not None else ""

    @Slot(QTreeWidgetItem, int)
    def _changed(self, item: QTreeWidgetItem, column: int) -> None:
        made = item.checkState(0) != OPEN
        kind = self._kind_of(item)
        if kind:
            self.kind_ticked.emit(kind, made)
        else:
            self.ticked.emit(self._repairs[int(item.data(0, NUMBER)) - 1].name, made)

    @Slot(QTreeWidgetItem, QTreeWidgetItem)
    def _moved(self, item: QTreeWidgetItem | None, before: QTreeWidgetItem | None) -> None:
        self.pointed.emit(self.current())
