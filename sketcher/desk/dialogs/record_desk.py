"""The inspection record: a table to type what was measured, with a verdict for each dimension."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QColor
from PySide6.QtWidgets import (
    QAbstractItemView,
    QDialogButtonBox,
    QHeaderView,
    QLabel,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from sketcher.board.board import Board
from sketcher.board.files.measured_record import (
    RECORD,
    Recording,
    opened_record,
    record_path,
    replaceable,
)
from sketcher.board.files.open_and_save import suggested
from sketcher.board.files.replace_question import planned
from sketcher.board.window_port import Host
from sketcher.desk.dialogs.roomy import RoomyDialog
from sketcher.desk.looks import Look
from sketcher.drafting.record import COLUMNS, FAIL, PASS
from sketcher.errors import FileError, QuantityError, SketcherError
from sketcher.interrupt import Stopped

MEASURED, VERDICT = COLUMNS.index("measured"), COLUMNS.index("verdict")
SIGNS = {PASS: "\N{CHECK MARK} pass", FAIL: "\N{MULTIPLICATION X} fail"}


class RecordDesk(RoomyDialog):
    """Shows the record; only the measured column can be typed in.

    Parameters
    ----------
    board : Board
    host : Host
        Answers where to write.
    recording : Recording
        What is known.
    look : Look
    parent : QWidget
    """

    def __init__(
        self, board: Board, host: Host, recording: Recording, look: Look, parent: QWidget
    ) -> None:
        super().__init__(parent)
        self.board, self.host, self.recording, self.look = board, host, recording, look
        self.setWindowTitle(f"Inspection record of {recording.part.name}")
        self.table = QTableWidget(self)
        self.table.setAccessibleName("Inspection record")
        self.table.setColumnCount(len(COLUMNS))
        self.table.setHorizontalHeaderLabels([c.capitalize() for c in COLUMNS])
        self.table.verticalHeader().hide()
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.horizontalHeader().setMinimumSectionSize(60)
        self.table.horizontalHeader().setSectionResizeMode(
            QHeaderView.ResizeMode.ResizeToContents)
        self.table.horizontalHeader().setStretchLastSection(True)
        self.said = QLabel(self)
        self.said.setWordWrap(True)
        outer = QVBoxLayout(self)
        outer.addWidget(self.table, 1)
        outer.addWidget(self.said)
        outer.addWidget(self._ends())
        self._fill()
        self.table.itemChanged.connect(self._typed)
        self.resize(900, 520)

    def _ends(self) -> QDialogButtonBox:
        kinds = QDialogButtonBox.StandardButton
        buttons = QDialogButtonBox(kinds.Save | kinds.Close, self)
        buttons.button(kinds.Save).clicked.connect(self.save)
        for label, suffix in (("Export PDF ...", ".pdf"), ("Export CSV ...", ".csv")):
            made = buttons.addButton(label, QDialogButtonBox.ButtonRole.ActionRole)
            made.clicked.connect(partial(self._export, suffix))
        buttons.rejected.connect(self.reject)
        return buttons

    # The table.

    def _fill(self) -> None:
        """Show the record; the cells that stand keep their place."""
        self.table.blockSignals(True)
        rows = self.recording.cells()
        self.table.setRowCount(len(rows))
        for number, cells in enumerate(rows):
            for column, text in enumerate(cells):
                item = self.table.item(number, column)
                if item is None:
                    item = QTableWidgetItem()
                    self.table.setItem(number, column, item)
                    if column != MEASURED:
                        item.setFlags(item.flags() & ~Qt.ItemFlag.ItemIsEditable)
                item.setText(SIGNS.get(text, text) if column == VERDICT else text)
                if column == VERDICT:
                    item.setForeground(QColor(self.look.bad if text == FAIL else self.look.good))
        self.table.blockSignals(False)
        self.said.setText(self.recording.summary())

    @Slot(QTableWidgetItem)
    def _typed(self, item: QTableWidgetItem) -> None:
        """Take a value; one that cannot be understood is told and what was there comes back."""
        name = self.recording.rows[item.row()].id
        try:
            self.recording.type(name, item.text())
        except QuantityError as error:
            self._fill()
            self.said.setText(f"! {error}")
            return
        self._fill()

    # Leaving.

    @Slot()
    def save(self) -> bool:
        """Write the record beside the part, or where a person says while the part has no file."""
        path = record_path(self.board.bench) or self.host.ask_path(
            "Save the record", True, ".csv", suggested(self.board.bench, RECORD))
        return path is not None and self._write(path)

    def _export(self, suffix: str, *_: object) -> None:
        path = self.host.ask_path("Export the record", True, suffix,
                                  suggested(self.board.bench, f".record{suffix}"))
        if path is not None:
            self._write(path)

    def _write(self, path: Path) -> bool:
        form = replaceable(self.recording, path)
        try:
            outputs = planned(self.board.bench, self.host, self.windowTitle(), path, form)
            if outputs is None:
                return False
            self.recording.write(path, outputs, self.board.bench.worker)
        except SketcherError as error:
            self.said.setText(f"! {error}")
            return False
        except Stopped:
            self.said.setText("Stopped: nothing was exported.")
            return False
        self.said.setText(f"{self.recording.summary()}. {path.name} exported.")
        return True

    def reject(self) -> None:
        """Close; what was typed and is in no file is asked about."""
        if self.recording.is_changed:
            answer = self.host.ask_unsaved("The inspection record")
            if answer == "cancel" or (answer == "save" and not self.save()):
                return
        super().reject()


def show_record(board: Board, host: Host, look: Look, parent: QWidget) -> None:
    """Open the record of the part on the bench."""
    try:
        recording = opened_record(board.bench)
    except FileError as error:
        board.bench.say(str(error), "error", error.place)
        return
    desk = RecordDesk(board, host, recording, look, parent)
    desk.exec()
    desk.deleteLater()
