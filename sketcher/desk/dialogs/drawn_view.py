"""A drawing that is looked at: the wheel comes closer, the pointer pulls it along or picks a mark.

What is drawn, and what numbers stand where, is of the view that is made of it.
"""

from __future__ import annotations

import sys
from math import hypot

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from sketcher.desk.dialogs.drawn_curves import pen_of
from sketcher.desk.looks import Look
from sketcher.desk.scene.camera import Camera
from sketcher.geometry.bounds import Box
from sketcher.geometry.curves import XY

CLOSER = 1.25
PAN = 40.0
"""Pixels of a step with an arrow key."""
PRESS = 4.0
"""Pixels that a press may wander and still be none that pulls."""


class DrawnView(QWidget):
    """Keeps from where a drawing is seen; `frame` is what all of it takes.

    Signals
    -------
    picked(int)
        Number whose mark was pressed, from 1.
    """

    picked = Signal(int)

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self.look = look
        self.chosen = 0
        self.waiting_for = ""
        self.camera = Camera()
        self.frame: Box | None = None
        self.fitted = True  # the whole drawing is in view, and stays so
        self._held: QPointF | None = None
        self._pulled = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleDescription(
            "Plus and minus change its size, 0 shows all of it, the arrow keys move it.")
        self.setMinimumSize(160, 90)

    # What a view of it says.

    def paint_drawing(self, painter: QPainter) -> bool:
        """Paint what there is; return False where there is nothing and `waiting_for` is said."""
        return False

    def numbers_at(self, pixel: XY) -> list[int]:
        """Return the numbers whose marks lie under a pixel."""
        return []

    def place_of(self, number: int) -> XY | None:
        """Return where the mark of a number is; None where it has none."""
        return None

    # What is seen.

    def see(self, frame: Box | None) -> None:
        """Take over what all of the drawing takes; the place that is looked at stays."""
        before, self.frame = self.frame, frame
        if self.fitted or frame != before:
            self.fit()
        self.update()

    def choose(self, number: int) -> None:
        """Make a mark stand out; 0 for none."""
        self.chosen = number
        self.update()

    def reveal(self) -> None:
        """Move the chosen mark into view where it is out of it."""
        at = self.place_of(self.chosen) if self.chosen else None
        if at is not None:
            x, y = self.camera.to_screen(at)
            if not (0.0 < x < self.camera.width and 0.0 < y < self.camera.height):
                self.camera = self.camera.seeing(self.camera.scale, at)
                self.fitted = False
        self.update()

    def fit(self) -> None:
        """Show all of it."""
        self.fitted = True
        if self.frame is not None:
            self.camera = self.camera.fitting(self.frame, 0.08)
        self.update()

    def zoom(self, factor: float, about: XY | None = None) -> None:
        """Come closer to a pixel, or to the middle."""
        self.fitted = False
        middle = (0.5 * self.camera.width, 0.5 * self.camera.height)
        self.camera = self.camera.zoomed(factor, about or middle)
        self.update()

    def pan(self, dx: float, dy: float) -> None:
        """Move the drawing by pixels."""
        self.fitted = False
        self.camera = self.camera.panned(dx, dy)
        self.update()

    @property
    def pulled_along(self) -> bool:
        """Whether the pointer pulls the drawing along just now."""
        return self._held is not None and self._pulled

    # Events.

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the drawing and its marks."""
        painter = QPainter(self)
        try:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.fillRect(self.rect(), QColor(self.look.sheet))
            if not self.paint_drawing(painter):
                painter.setPen(QColor(self.look.dims))
                painter.drawText(QRectF(self.rect()).adjusted(16, 16, -16, -16),
                                 int(Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap),
                                 self.waiting_for)
            if self.hasFocus():
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.setPen(pen_of(self.look.focus, 2.0))
                painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
        except Exception:  # noqa: BLE001 - an exception that leaves an override can end the process
            sys.excepthook(*sys.exc_info())
        finally:
            painter.end()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the whole drawing in view where it was."""
        self.camera = self.camera.resized(self.width(), self.height())
        if self.fitted:
            self.fit()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Come closer or go away."""
        at = event.position()
        self.zoom(CLOSER ** (event.angleDelta().y() / 120.0), (at.x(), at.y()))
        event.accept()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of the drawing."""
        self._held, self._pulled = event.position(), False

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Pull the drawing along."""
        if self._held is None:
            return
        step = event.position() - self._held
        if self._pulled or hypot(step.x(), step.y()) > PRESS:
            self._pulled, self._held = True, event.position()
            self.pan(step.x(), step.y())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let it go; a press that did not pull picks a mark, and another one the next."""
        held, self._held = self._held, None
        if held is None or self._pulled:
            return
        numbers = self.numbers_at((event.position().x(), event.position().y()))
        if numbers:
            turn = numbers.index(self.chosen) + 1 if self.chosen in numbers else 0
            self.picked.emit(numbers[turn % len(numbers)])

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Show all of it again."""
        self.fit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take the keys that change size and place."""
        closer = {Qt.Key.Key_Plus: CLOSER, Qt.Key.Key_Equal: CLOSER, Qt.Key.Key_Minus: 1 / CLOSER}
        ways = {Qt.Key.Key_Left: (PAN, 0.0), Qt.Key.Key_Right: (-PAN, 0.0),
                Qt.Key.Key_Up: (0.0, PAN), Qt.Key.Key_Down: (0.0, -PAN)}
        key = Qt.Key(event.key())
        if key in closer:
            self.zoom(closer[key])
        elif key in ways:
            self.pan(*ways[key])
        elif key == Qt.Key.Key_0:
            self.fit()
        else:
            super().keyPressEvent(event)
