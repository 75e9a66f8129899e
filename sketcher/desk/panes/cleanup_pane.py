"""The list of the clean-up: what was found, and the buttons that mend one or all."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from sketcher.board.board import Board
from sketcher.board.steps.notices import Change
from sketcher.board.tools.clean_up_tool import CleanUpTool

if TYPE_CHECKING:
    from sketcher.inspect.mend import Defect

LEAST_ROWS, SHOWN_ROWS = 2, 5
"""Rows of the list in a low window, and at most."""


class CleanUpPane(QWidget):
    """Stands below the sheet while the clean-up is in hand, hidden otherwise.

    Signals
    -------
    asked(object)
        A `Defect` whose row was chosen: show its place.
    left()
        The keyboard should go back to the sheet.
    """

    asked = Signal(object)
    left = Signal()

    def __init__(self, board: Board, parent: QWidget) -> None:
        super().__init__(parent)
        self.board = board
        self.setAccessibleName("Clean-up")
        self._following = False
        self._shown: tuple[Defect, ...] = ()
        self.head = QLabel("", self)
        self.head.setWordWrap(True)
        self.list = QListWidget(self)
        self.list.setAccessibleName("What wants cleaning up")
        line = self.list.fontMetrics().height() + 4
        self.list.setMinimumHeight(LEAST_ROWS * line + 4)
        self.list.setMaximumHeight(SHOWN_ROWS * line + 4)
        self.list.currentRowChanged.connect(self._choose)
        self.list.itemActivated.connect(self._activated)
        self.this = QPushButton("Mend this", self)
        self.otherwise = QPushButton("", self)
        self.every = QPushButton("Mend all", self)
        self.every.setToolTip("Mends all that can be mended without a doubt, in one step.")
        self.close_key = QPushButton("Done", self)
        self.this.clicked.connect(self._mend)
        self.otherwise.clicked.connect(self._mend_otherwise)
        self.every.clicked.connect(self._mend_all)
        self.close_key.clicked.connect(self._leave)
        self._arrange()
        self.hide()

    def _arrange(self) -> None:
        line = QHBoxLayout()
        line.addWidget(self.head, 1)
        for button in (self.this, self.otherwise, self.every, self.close_key):
            line.addWidget(button)
        stack = QVBoxLayout(self)
        stack.setContentsMargins(4, 2, 4, 2)
        stack.setSpacing(2)
        stack.addLayout(line)
        stack.addWidget(self.list)

    @property
    def tool(self) -> CleanUpTool | None:
        """The clean-up while it is in hand."""
        return self.board.tool if isinstance(self.board.tool, CleanUpTool) else None

    @Slot(object)
    def hear(self, change: Change) -> None:
        """Follow the tool."""
        tool = self.tool
        if tool is None:
            self._shown = ()
            self.hide()
            return
        if tool.defects is not self._shown or self.isHidden():
            self._fill(tool)
        self._follow(tool)
        self.show()

    def _fill(self, tool: CleanUpTool) -> None:
        from sketcher.inspect.cleanup import mends

        self._following = True
        self._shown = tool.defects
        self.list.clear()
        for defect in tool.defects:
            item = QListWidgetItem(f"{mends()[defect.kind].title}: {defect.text}")
            item.setToolTip(defect.offer or "Only you can tell what was meant.")
            self.list.addItem(item)
        for piece in (self.list, self.this, self.every):  # nothing to list takes no room
            piece.setVisible(bool(tool.defects))
        self._following = False

    def _follow(self, tool: CleanUpTool) -> None:
        self._following = True
        if self.list.currentRow() != tool.at and tool.defects:
            self.list.setCurrentRow(tool.at)
        self._following = False
        defect = tool.chosen
        trouble = tool.trouble() if defect is not None else ""
        self.this.setEnabled(defect is not None and not trouble)
        self.every.setEnabled(any(d.sure and d.step is not None for d in tool.defects))
        other = defect.other if defect is not None else None
        self.otherwise.setVisible(other is not None)
        self.otherwise.setText(other.offer if other is not None else "")
        self.this.setToolTip(trouble or (defect.offer if defect is not None else ""))
        text = tool.prompt if tool.looking or tool.stopped else "Nothing to clean up."
        if defect is not None:
            text = f"{trouble or defect.offer}"
            if not defect.sure:
                text += "  Not done by Mend all: it may have been meant."
        self.head.setText(text)

    @Slot(int)
    def _choose(self, number: int) -> None:
        tool = self.tool
        if self._following or tool is None or number < 0:
            return
        tool.choose(number)
        defect = tool.chosen
        if defect is not None:
            self.board.bench.select(defect.ids)
            self._follow(tool)
            self.asked.emit(defect)

    @Slot(QListWidgetItem)
    def _activated(self, item: QListWidgetItem) -> None:
        self._mend()

    @Slot()
    def _mend(self) -> None:
        tool = self.tool
        if tool is not None and self.this.isEnabled():
            tool.mend()
            self.board.bench.select(())
            self._fill(tool)
            self._follow(tool)

    @Slot()
    def _mend_otherwise(self) -> None:
        tool = self.tool
        if tool is not None:
            tool.mend_otherwise()
            self.board.bench.select(())
            self._fill(tool)
            self._follow(tool)

    @Slot()
    def _mend_all(self) -> None:
        tool = self.tool
        if tool is not None:
            tool.mend_all()
            self._fill(tool)
            self._follow(tool)

    @Slot()
    def _leave(self) -> None:
        self.board.use("pick")
        self.left.emit()
