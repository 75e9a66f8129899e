"""What is done once the sheet stands still for a moment."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer, Slot

from sketcher.desk.scene.scene_state import SceneState

STILL = 120
"""Milliseconds without a motion after which the dimensions of a crowded part are laid out."""


class Stillness(QTimer):
    """Has the dimensions of a crowded part laid out when it was not started again for a while.

    Parameters
    ----------
    sheet : SceneState
    told : callable
        Called when they are there.
    parent : QObject
    """

    def __init__(self, sheet: SceneState, told: Callable[[], None], parent: QObject) -> None:
        super().__init__(parent)
        self._sheet, self._told = sheet, told
        self.setSingleShot(True)
        self.setInterval(STILL)
        self.timeout.connect(self._know_dimensions)

    @Slot()
    def _know_dimensions(self) -> None:
        if self._sheet.shows("dimensions"):
            self._sheet.board.bench.derived.know_dimensions(self._sheet.px, self._told)
