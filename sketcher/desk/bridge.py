"""The one listener of the board on Qt's side: every change becomes one signal."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from sketcher.board.board import Board
from sketcher.board.steps.notices import PART_REASONS, Change

# While a gesture goes on, the panes follow this many milliseconds after the last motion.
PANES_LAG = 120


class Bridge(QObject):
    """Turns the board's notices into signals.

    Signals
    -------
    changed(object)
        Every `Change`, at once.
    part_changed(object)
        The `Change` when the part or its report changed.
    settled()
        Once after changes have come to rest; the slow panes listen to this one.
    """

    changed = Signal(object)
    part_changed = Signal(object)
    settled = Signal()

    def __init__(self, board: Board, parent: QObject) -> None:
        super().__init__(parent)
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.timeout.connect(self._at_rest)
        self._leave = board.bench.notices.listen(self.hear)

    def hear(self, change: Change) -> None:
        """Pass a change on."""
        self.changed.emit(change)
        if change.reason in PART_REASONS:
            self.part_changed.emit(change)
            self._rest.start(PANES_LAG if change.reason == "drag" else 0)

    @Slot()
    def _at_rest(self) -> None:
        self.settled.emit()

    def close(self) -> None:
        """Stop to listen."""
        self._rest.stop()
        self._leave()
