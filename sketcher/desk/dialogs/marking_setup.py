"""What a class is marked by: key, hand-ins, roster; and what to do first."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import (
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from sketcher.board.files.marking_book import ClassBook
from sketcher.board.files.marking_words import FIRST
from sketcher.board.window_port import Host
from sketcher.desk.dialogs.marking_layers import LayerTable
from sketcher.errors import SketcherError
from sketcher.marking.marking_file import MARKING_SUFFIX
from sketcher.part.store import SUFFIX

ROWS = (
    ("key", "&Key", "A part's file; left empty, the part that is open is the key."),
    ("variants", "&Variants", "Where each student has a key of his own: variants.csv, in place "
     "of the key. May be left out."),
    ("folder", "&Hand-ins", "A folder of DXF or part files, one each."),
    ("roster", "Ros&ter", "A table number, name, group as CSV; may be left out."),
)
ASKED = {"key": ("The key of the class", False, SUFFIX),
         "variants": ("The keys of the class", False, ".csv"),
         "roster": ("The roster of the class", False, ".csv")}
LEFT_BEHIND = ("What was ruled of these hand-ins before the program ended is in no file. "
               "Go on with it?")


class MarkingSetup(QWidget):
    """Fields for paths, typed or chosen.

    Signals
    -------
    refused(str)
        Why a marking cannot be taken up.
    """

    refused = Signal(str)

    def __init__(self, book: ClassBook, host: Host, parent: QWidget) -> None:
        super().__init__(parent)
        self.book, self.host = book, host
        outer = QVBoxLayout(self)
        self.first = QLabel(FIRST, self)
        self.first.setWordWrap(True)
        outer.addWidget(self.first)
        form = QFormLayout()
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        self.fields: dict[str, QLineEdit] = {}
        self.buttons: dict[str, QPushButton] = {}
        for name, label, tip in ROWS:
            field = self._row(name, label.replace("&", ""), tip)
            words = QLabel(label, self)
            words.setBuddy(self.fields[name])
            form.addRow(words, field)
        outer.addLayout(form)
        self.listed = QLabel(self)
        self.listed.setWordWrap(True)
        self.listed.setObjectName("faint")
        outer.addWidget(self.listed)
        self.layers = LayerTable(book, self)
        outer.addWidget(self.layers)
        row = QHBoxLayout()
        self.take_up = QPushButton("&Open a marking ...", self)
        self.take_up.setToolTip("Goes on with a class that was saved: what was chosen, the rubric, "
                                "and everything that was ruled by hand.")
        self.take_up.setAutoDefault(False)
        self.take_up.clicked.connect(self._take_up)
        row.addWidget(self.take_up)
        row.addStretch(1)
        outer.addLayout(row)
        outer.addStretch(1)

    def _row(self, name: str, label: str, tip: str) -> QWidget:
        row = QWidget(self)
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        edit = QLineEdit(row)
        edit.setAccessibleName(label)
        edit.setToolTip(tip)
        edit.setPlaceholderText(tip)
        edit.editingFinished.connect(partial(self._typed, name))
        choose = QPushButton("Choose ...", row)
        choose.setAccessibleName(f"Choose: {label}")
        choose.setAutoDefault(False)
        choose.clicked.connect(partial(self._choose, name))
        line.addWidget(edit, 1)
        line.addWidget(choose)
        self.fields[name], self.buttons[name] = edit, choose
        return row

    def follow(self) -> None:
        """Show what is chosen."""
        book = self.book
        for name, edit in self.fields.items():
            path = getattr(book, name)
            if self._path(name) != path:
                edit.setText("" if path is None else str(path))
        if book.key is None and book.has_part:
            self.fields["key"].setPlaceholderText(f"The part that is open: {book.board.part.name}")
        for piece in (self.fields["key"], self.buttons["key"]):
            piece.setEnabled(book.variants is None)
        self.layers.follow()
        self.listed.setText("\n".join(listed_words(book)))
        self.listed.setVisible(bool(self.listed.text()))

    def _path(self, name: str) -> Path | None:
        text = self.fields[name].text().strip()
        return Path(text).expanduser() if text else None

    def _typed(self, name: str) -> None:
        path = self._path(name)
        if path != getattr(self.book, name):
            self._use(name, path)

    def _choose(self, name: str, *_: object) -> None:
        path = (self.host.ask_folder("The hand-ins of the class") if name == "folder" else
                self.host.ask_path(*ASKED[name]))
        if path is not None:
            self._use(name, path)

    def _use(self, name: str, path: Path | None) -> None:
        {"key": self.book.use_key, "variants": self.book.use_variants,
         "folder": self.book.use_folder, "roster": self.book.use_roster}[name](path)
        if name == "folder" and self.book.left_behind is not None and self.host.confirm(
                "Mark a class", LEFT_BEHIND, "Go on with it"):
            self.book.take_up_left_behind()

    @Slot()
    def _take_up(self) -> None:
        path = self.host.ask_path("Open a marking", False, MARKING_SUFFIX)
        if path is None:
            return
        if self.book.is_changed and not self.host.confirm(
                "Open a marking", "What was ruled here is in no file. Drop it?", "Drop it"):
            return
        try:
            self.book.open_marking(path)
        except SketcherError as error:
            self.refused.emit(str(error))


def listed_words(book: ClassBook) -> list[str]:
    """Return who handed in nothing, and which files were passed over."""
    if book.compared is None:
        return []
    listed = book.compared.listed
    words = []
    if listed.absent:
        who = ", ".join(each.number for each in listed.absent)
        words.append(f"Handed in nothing: {who}.")
    if listed.passed_over:
        words.append("Passed over, neither DXF nor part file: "
                     f"{', '.join(listed.passed_over)}.")
    return words
