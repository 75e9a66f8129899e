"""What was left behind by a run that broke: go on with it, or let it go."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from sketcher.desk.dialogs.roomy import RoomyDialog
from sketcher.part.autosave import Recovery


def describe(found: Recovery) -> str:
    """Return the line that names a recovery copy."""
    when = datetime.fromtimestamp(found.time).strftime("%Y-%m-%d %H:%M")
    name = found.original.name if found.original is not None else "a part without a file"
    return f"{name}, kept {when}{DISK[found.original_is]}"


DISK = {
    "none": "", "same": "", "gone": "; the file is gone",
    "other": "; the file is another version by now",
}
"""What is said of the file that a copy belongs to, by how it stands to the copy."""


class RecoveryDialog(RoomyDialog):
    """Lists the copies; `chosen` is the one to go on with, `discarded` those to be removed."""

    def __init__(self, found: tuple[Recovery, ...], parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Unsaved work was kept")
        self.chosen: Recovery | None = None
        self.discarded: list[Recovery] = []
        self._found = list(found)
        outer = QVBoxLayout(self)
        words = QLabel(
            "The program ended before this was saved. Go on with a copy, remove it, or decide "
            "later: nothing is removed unless you say so.", self,
        )
        words.setWordWrap(True)
        outer.addWidget(words)
        self.entries = QListWidget(self)
        self.entries.setAccessibleName("Recovery copies")
        for recovery in found:
            self.entries.addItem(QListWidgetItem(describe(recovery)))
        self.entries.setCurrentRow(0)
        outer.addWidget(self.entries)
        line = QHBoxLayout()
        for text, slot in (
            ("&Go on with it", self._go_on), ("&Remove it", self._remove), ("&Later", self.reject),
        ):
            button = QPushButton(text, self)
            button.clicked.connect(slot)
            line.addWidget(button)
        outer.addLayout(line)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)

    @Slot()
    def _go_on(self) -> None:
        row = self.entries.currentRow()
        if row >= 0:
            self.chosen = self._found[row]
            self.accept()

    @Slot()
    def _remove(self) -> None:
        row = self.entries.currentRow()
        if row < 0:
            return
        self.discarded.append(self._found.pop(row))
        self.entries.takeItem(row)
        if not self._found:
            self.reject()
