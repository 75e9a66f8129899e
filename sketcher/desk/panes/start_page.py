"""What a person meets first: begin a part, go on with one, or look at a demo part."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import (
    QGridLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from sketcher.errors import FileError
from sketcher.shipped import shipped

CAUTION = (
    "What this program draws can steer a cutter or carry a load. Check every part before it is "
    "cut, keep to your shop's rules and local codes, and ask a licensed engineer about anything "
    "that bears a load."
)


@dataclass(frozen=True, slots=True)
class Demo:
    """A shipped demo part: file name, name and the sentence that it carries."""

    file: str
    name: str
    about: str


def demos() -> tuple[Demo, ...]:
    """Return the shipped demo parts by name; none when they are missing."""
    try:
        folder = shipped("demo_parts")
    except FileError:
        return ()
    found = []
    for entry in sorted(folder.iterdir(), key=lambda e: e.name):
        if entry.name.endswith(".profile.json"):
            told = json.loads(entry.read_text("utf-8"))
            found.append(Demo(entry.name, told["name"], _about(told)))
    return tuple(found)


def _about(told: dict[str, Any]) -> str:
    """Return what a demo part has to show, from its file."""
    mirrors = told.get("mirror") or []
    axes = len(mirrors) if isinstance(mirrors, list) else 1
    said = [
        {"mm": "millimetres", "in": "inches"}[told["unit"]],
        {0: "drawn whole", 1: "a half and its axis"}.get(axes, "a quarter and its two axes"),
    ]
    if told.get("patterns"):
        said.append("a pattern of holes")
    if told.get("parameters"):
        said.append("parameters")
    return ", ".join((*said, *(told.get("notes") or [])[:1]))


class StartPage(QWidget):
    """The page in the place of the sheet.

    Signals
    -------
    new_asked(str)
        A unit.
    open_asked()
        A file is to be chosen.
    file_asked(str)
        A recent file's path.
    demo_asked(str)
        A demo part's file name.
    """

    new_asked = Signal(str)
    open_asked = Signal()
    file_asked = Signal(str)
    demo_asked = Signal(str)

    def __init__(self, parent: QWidget, recent: tuple[str, ...] = ()) -> None:
        super().__init__(parent)
        self.setAccessibleName("Start")
        outer = QVBoxLayout(self)
        outer.setContentsMargins(28, 20, 28, 16)
        outer.setSpacing(10)
        title = QLabel("What is on the table today?", self)
        font = title.font()
        font.setPointSizeF(font.pointSizeF() * 1.7)
        title.setFont(font)
        outer.addWidget(title)
        outer.addLayout(self._buttons())
        lists = QGridLayout()
        self.demo_list = self._list("Demo parts", lists, 0)
        self.recent_list = self._list("Recent files", lists, 1)
        outer.addLayout(lists, 1)
        caution = QLabel(CAUTION, self)
        caution.setWordWrap(True)
        caution.setObjectName("faint")
        outer.addWidget(caution)
        self._fill_demos()
        self.show_recent(recent)

    def _buttons(self) -> QGridLayout:
        grid = QGridLayout()
        self.new_mm = QPushButton("New part in &millimetres", self)
        self.new_in = QPushButton("New part in &inches", self)
        self.open = QPushButton("&Open a file\N{HORIZONTAL ELLIPSIS}", self)
        for column, button in enumerate((self.new_mm, self.new_in, self.open)):
            button.setMinimumHeight(int(button.sizeHint().height() * 1.4))
            grid.addWidget(button, 0, column)
        self.new_mm.clicked.connect(self._new_mm)
        self.new_in.clicked.connect(self._new_in)
        self.open.clicked.connect(self._open)
        return grid

    def _list(self, title: str, grid: QGridLayout, column: int) -> QListWidget:
        label = QLabel(title, self)
        entries = QListWidget(self)
        entries.setAccessibleName(title)
        entries.setWordWrap(True)
        entries.setAlternatingRowColors(True)
        entries.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        label.setBuddy(entries)
        grid.addWidget(label, 0, column)
        grid.addWidget(entries, 1, column)
        entries.itemActivated.connect(self._chosen)
        entries.itemClicked.connect(self._chosen)
        return entries

    def _fill_demos(self) -> None:
        for demo in demos():
            item = QListWidgetItem(f"{demo.name} \N{EN DASH} {demo.about}")
            item.setData(Qt.ItemDataRole.UserRole, demo.file)
            item.setToolTip("Open a copy; the shipped part stays as it is.")
            self.demo_list.addItem(item)

    def show_recent(self, paths: tuple[str, ...]) -> None:
        """List recent files, newest first."""
        self.recent_list.clear()
        for path in paths:
            place = Path(path)
            name = place.name.removesuffix(".json").removesuffix(".profile")
            item = QListWidgetItem(f"{name} \N{EN DASH} {place.parent}")
            item.setData(Qt.ItemDataRole.UserRole, path)
            item.setToolTip(path)
            self.recent_list.addItem(item)
        if not paths:
            empty = QListWidgetItem("Nothing yet.")
            empty.setFlags(Qt.ItemFlag.NoItemFlags)
            self.recent_list.addItem(empty)

    @Slot()
    def _new_mm(self) -> None:
        self.new_asked.emit("mm")

    @Slot()
    def _new_in(self) -> None:
        self.new_asked.emit("in")

    @Slot()
    def _open(self) -> None:
        self.open_asked.emit()

    @Slot(QListWidgetItem)
    def _chosen(self, item: QListWidgetItem) -> None:
        name = item.data(Qt.ItemDataRole.UserRole)
        if name is None:
            return
        if item.listWidget() is self.demo_list:
            self.demo_asked.emit(name)
        else:
            self.file_asked.emit(name)
