"""Moving the sheet under the window: middle button, space and main button, touchpad."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QGraphicsView

from sketcher.desk.scene.scene_state import SceneState


class Panning:
    """Knows whether the sheet is being moved, and whether space was only tapped.

    Parameters
    ----------
    view : QGraphicsView
        Shows the sheet; its cursor tells what goes on.
    sheet : SceneState
        Its camera moves.
    moved : callable
        Called after each motion.
    """

    def __init__(
        self, view: QGraphicsView, sheet: SceneState, moved: Callable[[], object]
    ) -> None:
        self._view = view
        self._sheet = sheet
        self._moved = moved
        self._at: QPointF | None = None
        self._space = self._tapped = False

    @property
    def is_on(self) -> bool:
        """True while the sheet is being moved."""
        return self._at is not None

    def space_down(self) -> None:
        """Let the main button move the sheet."""
        self._space = self._tapped = True

    def space_up(self) -> bool:
        """Give the main button back; return whether space was tapped and nothing was moved."""
        tapped, self._space, self._tapped = self._tapped, False, False
        return tapped

    def begin(self, event: QMouseEvent) -> bool:
        """Begin with a press that means so; return whether it does."""
        main = event.button() == Qt.MouseButton.LeftButton
        if event.button() != Qt.MouseButton.MiddleButton and not (self._space and main):
            return False
        self._at, self._tapped = event.position(), False
        self._view.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)
        return True

    def go_on(self, event: QMouseEvent) -> bool:
        """Follow the pointer; return whether the sheet is being moved."""
        if self._at is None:
            return False
        step, self._at = event.position() - self._at, event.position()
        self._shift(step)
        return True

    def end(self) -> bool:
        """Stop; return whether the sheet was being moved."""
        was, self._at = self._at is not None, None
        if was:
            self._view.viewport().setCursor(Qt.CursorShape.CrossCursor)
        return was

    def glide(self, event: QWheelEvent) -> bool:
        """Follow a touchpad; return whether it was one, and not meant to zoom."""
        fine = event.pixelDelta()
        gliding = event.phase() != Qt.ScrollPhase.NoScrollPhase and not fine.isNull()
        if not gliding or event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            return False
        self._shift(QPointF(fine))
        return True

    def _shift(self, step: QPointF) -> None:
        self._sheet.camera = self._sheet.camera.panned(step.x(), step.y())
        self._moved()
