"""A foreign drawing on its way in: the drawing at the left, what is done to it at the right."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QSignalBlocker, Qt, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QDialogButtonBox,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QSplitter,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from sketcher.board.board import Board
from sketcher.board.files.bringing_in import BringingIn, Brought, export_taken, open_taken
from sketcher.board.files.intake_words import layer_words, mark, outcome, state
from sketcher.board.window_port import Host
from sketcher.desk.dialogs.intake_choices import IntakeChoices
from sketcher.desk.dialogs.intake_view import IntakeView
from sketcher.desk.dialogs.repair_close_up import RepairCloseUp
from sketcher.desk.dialogs.repair_tree import RepairTree
from sketcher.desk.dialogs.roomy import RoomyDialog, lines_to_read, scrolled
from sketcher.desk.looks import Look
from sketcher.desk.work_bar import work_row
from sketcher.errors import SketcherError
from sketcher.interrupt import Stopped

SIDE = 380
"""Pixels of the column at the right at first."""
REPAIRS, LAYERS, OUTCOME = range(3)


class BringInDesk(RoomyDialog):
    """Shows what an intake makes of a file; nothing is on the board before it is taken in.

    Parameters
    ----------
    board : Board
    host : Host
    path : Path
        The drawing.
    look : Look
    parent : QWidget
    """

    def __init__(self, board: Board, host: Host, path: Path, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self.board, self.host = board, host
        self.bringing = BringingIn(path, board.bench.worker, self.follow)
        self._shown: Brought | None = None
        self.setWindowTitle(f"Bring in {path.name}")
        self.view = IntakeView(look, self)
        self.near = RepairCloseUp(look, self)
        self.near.hide()
        self.choices = IntakeChoices(self)
        self.tree = RepairTree(self)
        self.layers = QListWidget(self)
        self.layers.setAccessibleName("Layers")
        self.layers.setAccessibleDescription("A layer with a tick is read.")
        self.layers.setWordWrap(True)
        self.lines = lines_to_read("Outcome", (), self)
        self.about = QLabel(self)
        self.about.setWordWrap(True)
        self.about.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        # of two lines always: the drawing above stays as it is when the words grow
        self.about.setMinimumHeight(2 * self.about.fontMetrics().lineSpacing())
        self.about.hide()
        self.about.setAccessibleDescription("The repair that is chosen")
        self.said = QLabel(self)
        self.said.setWordWrap(True)
        self.said.setAccessibleDescription("What came of it")
        self._arrange()
        self._connect()
        self.resize(self.screen().availableGeometry().size() * 0.92)
        self.follow()
        self.tree.setFocus()

    # Building.

    def _arrange(self) -> None:
        split = QSplitter(Qt.Orientation.Horizontal, self)
        split.addWidget(self._left())
        split.addWidget(self._right())
        split.setChildrenCollapsible(False)
        split.setStretchFactor(0, 1)
        split.setSizes([1000, SIDE])
        split.setAccessibleName("Drawing and repairs")
        split.handle(1).setAccessibleName("Divider between the drawing and its repairs")
        outer = QVBoxLayout(self)
        outer.addWidget(split, 1)
        outer.addWidget(self.said)
        ends = work_row(self.board.bench.worker, self)
        ends.addWidget(self._ends(), 1)
        outer.addLayout(ends)

    def _left(self) -> QWidget:
        side = QWidget(self)
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.view, 3)
        column.addWidget(self.near, 1)
        column.addWidget(self.about)
        row = QHBoxLayout()
        self.after = QCheckBox("&After the repairs", side)
        self.after.setToolTip("Shows the parts as they were made, over the drawing in dashes.")
        self.all = QPushButton("&Whole drawing", side)
        self.all.setAutoDefault(False)
        row.addWidget(self.after)
        row.addStretch(1)
        row.addWidget(self.all)
        column.addLayout(row)
        return side

    def _right(self) -> QWidget:
        side = QWidget(self)
        column = QVBoxLayout(side)
        column.setContentsMargins(6, 0, 0, 0)
        column.addWidget(self.choices)
        self.tabs = QTabWidget(side)
        self.tabs.setAccessibleName("What is done to the drawing")
        for page, name in ((self.tree, "&Repairs"), (self.layers, "&Layers"),
                           (self.lines, "&Outcome")):
            self.tabs.addTab(page, name)
        column.addWidget(self.tabs, 1)
        return scrolled(side, "Choices and repairs", self)

    def _ends(self) -> QDialogButtonBox:
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel, self)
        role = QDialogButtonBox.ButtonRole
        self.take = buttons.addButton("&Take it in", role.AcceptRole)
        self.every = buttons.addButton("&Export all ...", role.ActionRole)
        self.again = buttons.addButton("Try a&gain", role.ActionRole)
        self.every.setToolTip("Writes each part into a file of its own: NAME-1, NAME-2, ...")
        for button in (self.take, self.every, self.again):
            button.setAutoDefault(False)
        self.every.clicked.connect(self.export)
        self.again.clicked.connect(self.bringing.begin)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        return buttons

    def _connect(self) -> None:
        self.tree.ticked.connect(self._ticked)
        self.tree.kind_ticked.connect(self._kind_ticked)
        self.tree.pointed.connect(self._pointed)
        self.view.picked.connect(self._picked)
        self.layers.itemChanged.connect(self._layer_ticked)
        self.choices.unit_chosen.connect(self._unit)
        self.choices.axis_chosen.connect(self.bringing.reflect_about)
        self.choices.part_chosen.connect(self.bringing.choose)
        self.after.toggled.connect(self.view.show_after)
        self.all.clicked.connect(self.view.fit)

    # What is shown.

    @Slot()
    def follow(self) -> None:
        """Show what came of it; while it goes on, what came of it before."""
        bringing = self.bringing
        brought = bringing.brought
        many = brought is not None and len(brought.taken.parts) > 1
        self.take.setEnabled(bringing.ready)
        self.every.setVisible(many)
        self.every.setEnabled(many and bringing.ready)
        self.again.setVisible(bool(bringing.trouble))
        if bringing.trouble == "stopped":
            self.said.setText(f"! {bringing.path.name}: stopped before it was taken in.")
        elif bringing.trouble:
            self.said.setText(f"! {bringing.trouble}")
        elif bringing.going:
            self.said.setText(f"{bringing.path.name}: being taken in ...")
        else:
            self.said.setText(state(brought, bringing.number))
        self.view.waiting_for = self.said.text()
        self.view.show_brought(brought, bringing.number)
        if not bringing.going:
            self._list(brought)

    def _list(self, brought: Brought | None) -> None:
        """Show choices, repairs, layers and lines."""
        self.choices.show_choices(self.bringing)
        repairs = self.bringing.repairs
        unit = brought.taken.unit.unit if brought is not None else "mm"
        self.view.chosen = 0
        self.tree.show_repairs(repairs, unit)
        self._show_near(self.tree.current())
        content = self.bringing.content
        layers = content.layers if content is not None else ()
        read = self.bringing.layers_read()
        with QSignalBlocker(self.layers):
            current = self.layers.currentRow()
            self.layers.clear()
            for layer in layers:
                item = QListWidgetItem(layer_words(layer), self.layers)
                item.setData(Qt.ItemDataRole.UserRole, layer.name)
                item.setCheckState(Qt.CheckState.Checked if layer.name in read
                                   else Qt.CheckState.Unchecked)
            self.layers.setCurrentRow(current)
        self.lines.clear()
        if brought is not None:
            self.lines.addItems(list(outcome(brought, self.bringing.number)))
        self.tabs.setTabText(REPAIRS, f"&Repairs ({len(repairs)})")
        self.tabs.setTabText(LAYERS, f"&Layers ({len(layers)})")

    @Slot(int)
    def _pointed(self, number: int) -> None:
        self._show_near(number)
        self.view.reveal()

    def _show_near(self, number: int) -> None:
        """Show a repair from near; nothing where none is chosen."""
        brought = self.bringing.brought
        repair = self.bringing.repairs[number - 1] if number else None
        self.view.choose(number)
        self.near.show_repair(brought, repair)
        self.near.setVisible(repair is not None)
        self.about.setVisible(repair is not None)
        self.about.setText("" if repair is None else f"{mark(repair, number)}: {repair.text}" + (
            "." if repair.taken else "; kept as drawn."))

    @Slot(int)
    def _picked(self, number: int) -> None:
        self.tabs.setCurrentIndex(REPAIRS)
        self.tree.point_at(number)

    # What is asked.

    @Slot(str, bool)
    def _ticked(self, name: str, made: bool) -> None:
        self.bringing.keep((name,), not made)

    @Slot(str, bool)
    def _kind_ticked(self, kind: str, made: bool) -> None:
        self.bringing.keep_kind(kind, not made)

    @Slot(QListWidgetItem)
    def _layer_ticked(self, item: QListWidgetItem) -> None:
        rows = [self.layers.item(row) for row in range(self.layers.count())]
        self.bringing.read_layers(row.data(Qt.ItemDataRole.UserRole) for row in rows
                                  if row.checkState() == Qt.CheckState.Checked)

    @Slot(str)
    def _unit(self, unit: str) -> None:
        self.bringing.measure_in("in" if unit == "in" else "mm")

    # Leaving.

    @Slot()
    def export(self) -> None:
        """Write every part into a file of its own."""
        try:
            said = export_taken(self.board, self.host, self.bringing)
        except SketcherError as error:
            self.said.setText(f"! {error}")
            return
        if said:
            self.said.setText(said)

    def accept(self) -> None:
        """Open the part that is chosen; where that cannot be, everything stays as it is here."""
        try:
            opened = open_taken(self.board, self.host, self.bringing)
        except SketcherError as error:
            self.said.setText(f"! {error}")
            return
        except Stopped:
            self.said.setText("! Stopped: the part is not on the board.")
            return
        if opened:
            super().accept()

    def done(self, result: int) -> None:
        """Close; what still goes on is wanted no more."""
        self.bringing.stop()
        super().done(result)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take Enter only where a button has it: a slip must not open a part."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            return
        super().keyPressEvent(event)


def bring_in(board: Board, host: Host, path: Path, look: Look, parent: QWidget) -> None:
    """Show a drawing, and what becomes of it."""
    desk = BringInDesk(board, host, path, look, parent)
    desk.bringing.begin()
    desk.exec()
    desk.deleteLater()
