"""The keyboard's way round the panes of the window."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QObject, Qt, Slot
from PySide6.QtWidgets import QApplication, QWidget

Stop = tuple[QWidget, QWidget | None]
"""A pane, and the widget in it that takes the keyboard."""


class Rounds(QObject):
    """Gives the keyboard to the next pane or the one before, so that nothing needs the mouse.

    Parameters
    ----------
    stops : callable
        Returns the stops in their order; those that are hidden, or cannot be
        used now, are passed by.
    parent : QObject
    """

    def __init__(self, stops: Callable[[], Sequence[Stop]], parent: QObject) -> None:
        super().__init__(parent)
        self._stops = [stops]

    def go_on_to(self, stops: Callable[[], Sequence[Stop]]) -> None:
        """Take what came to the window later into the way round, at its end."""
        self._stops.append(stops)

    @Slot()
    def onward(self) -> None:
        """Go to the next pane."""
        self._step(1)

    @Slot()
    def backward(self) -> None:
        """Go to the pane before."""
        self._step(-1)

    def _step(self, way: int) -> None:
        stops = [(pane, target) for some in self._stops for pane, target in some()
                 if target is not None and pane.isVisible() and target.isEnabled()]
        if not stops:
            return
        now = QApplication.focusWidget()
        here = next((n for n, (pane, _) in enumerate(stops)
                     if now is pane or (now is not None and pane.isAncestorOf(now))), -way)
        stops[(here + way) % len(stops)][1].setFocus(Qt.FocusReason.TabFocusReason)
