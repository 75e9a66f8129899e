"""Keys for the ways in which a tool can go on: a line, a tangent arc, a free arc."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QButtonGroup, QGridLayout, QSizePolicy, QToolButton, QWidget

from sketcher.board.toolkit.tool_base import Way

MOST = 4
LINES = 2


class WayKeys(QWidget):
    """A key for each way; one is down. Space goes round them on the sheet.

    Signals
    -------
    chosen(str)
        The way's name.
    """

    chosen = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        policy = self.sizePolicy()
        policy.setRetainSizeWhenHidden(True)
        self.setSizePolicy(policy)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(2)
        self._lines = 0
        self._names: list[str] = []
        self._group = QButtonGroup(self)
        self.keys: list[QToolButton] = []
        for number in range(MOST):
            key = QToolButton(self)
            key.setCheckable(True)
            key.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # the sheet keeps the keyboard
            key.setMinimumHeight(24)
            key.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            self._group.addButton(key, number)
            self.keys.append(key)
        self.put_in(LINES)
        self._group.idClicked.connect(self._choose)

    def put_in(self, lines: int) -> None:
        """Put the keys in so many lines."""
        if lines != self._lines:
            self._lines = lines
            for number, key in enumerate(self.keys):
                self._grid.addWidget(key, number % lines, number // lines)

    def show_ways(self, ways: tuple[Way, ...]) -> None:
        """Show the ways that a tool offers; none hides the keys."""
        self._names = [way.name for way in ways]
        for key, way in zip(self.keys, ways, strict=False):
            key.setText(way.label)
            key.setToolTip(f"{way.hint} Space goes round.")
            key.setAccessibleName(f"Next piece: {way.label}")
            key.setEnabled(way.usable)
            key.setChecked(way.taken)
        for number, key in enumerate(self.keys):
            key.setVisible(number < len(ways))
        self.setVisible(bool(ways))

    @Slot(int)
    def _choose(self, number: int) -> None:
        if number < len(self._names):
            self.chosen.emit(self._names[number])
