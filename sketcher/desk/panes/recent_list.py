"""The recent files: a press opens one, the pin behind it keeps it at the top."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QToolButton,
    QWidget,
)

PIN, PINNED = "Pin", "Pinned"


class RecentList(QListWidget):
    """A row a file.

    Parameters
    ----------
    parent : QWidget

    Signals
    -------
    pinned(str, bool)
        A path that is to stay at the top, or no longer.
    """

    pinned = Signal(str, bool)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAccessibleName("Recent files")
        self.setAlternatingRowColors(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTextElideMode(Qt.TextElideMode.ElideMiddle)
        self.pins: dict[str, QToolButton] = {}

    def show_files(self, paths: tuple[str, ...], pinned: tuple[str, ...]) -> None:
        """List files in this order."""
        self.clear()
        self.pins = {}
        for path in paths:
            self._row(path, path in pinned)
        if not paths:
            empty = QListWidgetItem("Nothing yet.", self)
            empty.setFlags(Qt.ItemFlag.NoItemFlags)
        self._fit()

    def showEvent(self, event: QShowEvent) -> None:
        """Be as high as the rows in the font that it is shown in."""
        super().showEvent(event)
        self._fit()

    def _fit(self) -> None:
        """Be as high as the rows: the page is scrolled, not the list."""
        high = sum(self.sizeHintForRow(row) for row in range(self.count()))
        self.setFixedHeight(high + 2 * self.frameWidth() + 2)

    def _row(self, path: str, pinned: bool) -> None:
        place = Path(path)
        name = place.name.removesuffix(".json").removesuffix(".profile")
        item = QListWidgetItem(f"{name} \N{EN DASH} {place.parent}", self)
        item.setData(Qt.ItemDataRole.UserRole, path)
        item.setToolTip(path)
        row = QWidget(self)
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 1, 4, 1)
        line.addStretch(1)
        pin = QToolButton(row)
        pin.setCheckable(True)
        pin.setChecked(pinned)
        pin.setText(PINNED if pinned else PIN)
        pin.setToolTip("Keeps this file at the top of the list.")
        pin.setAccessibleName(f"Keep {name} at the top")
        pin.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        pin.clicked.connect(partial(self._pin, path))
        line.addWidget(pin)
        item.setSizeHint(row.sizeHint())
        self.setItemWidget(item, row)
        self.pins[path] = pin

    def _pin(self, path: str) -> None:
        self.pinned.emit(path, self.pins[path].isChecked())
