"""A foreign drawing with its repairs marked on it, or the parts that were made of it."""

from __future__ import annotations

import sys
from math import copysign, hypot

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from sketcher.board.files.bringing_in import Brought
from sketcher.board.files.intake_words import LETTERS
from sketcher.desk.dialogs.drawn_curves import paint_curves, pen_of
from sketcher.desk.looks import Look
from sketcher.desk.scene.camera import Camera
from sketcher.geometry.bounds import bounds_of
from sketcher.geometry.curves import XY, Curve
from sketcher.intake.linework import Repair
from sketcher.intake.repair_marks import DIGIT, RepairMark, repair_marks

CLOSER = 1.25
PAN = 40.0
"""Pixels of a step with an arrow key."""
FEW = 400
"""Curves up to which the numbers are kept clear of the lines."""
NUMBER = 0.7
"""Height of the numbers that the marks are laid out for, in heights of a line of letters."""
PRESS = 4.0
"""Pixels that a press may wander and still be none that pulls."""


class IntakeView(QWidget):
    """Shows the drawing; the wheel comes closer, the pointer pulls it along or picks a mark.

    Signals
    -------
    picked(int)
        Number of the repair whose mark was pressed, from 1.
    """

    picked = Signal(int)

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self.look = look
        self.brought: Brought | None = None
        self.number = 0
        self.chosen = 0
        self.after = False
        self.waiting_for = ""
        self.camera = Camera()
        self._fitted = True  # the whole drawing is in view, and stays so
        self._held: QPointF | None = None
        self._pulled = False
        self._marks: tuple[RepairMark, ...] = ()
        self._marks_of: Brought | None = None
        self._marks_seen: tuple[float, int] | None = None
        self._frame: tuple[float, float, float, float] | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("The drawing with its repairs")
        self.setAccessibleDescription(
            "Plus and minus change its size, 0 shows all of it, the arrow keys move it.")
        self.setMinimumSize(160, 90)

    def sizeHint(self) -> QSize:
        """Return a size in which marks find room."""
        return QSize(700, 480)

    # What is shown.

    def show_brought(self, brought: Brought | None, number: int) -> None:
        """Show what came of an intake; the place that is looked at stays."""
        before = self._frame
        self.brought, self.number = brought, number
        curves = [each.curve for each in brought.drawn] if brought is not None else []
        self._frame = bounds_of(curves) if curves else None
        if self._fitted or self._frame != before:
            self.fit()
        self.update()

    def choose(self, number: int) -> None:
        """Make the mark of a repair stand out; 0 for none."""
        self.chosen = number
        self.update()

    def reveal(self) -> None:
        """Move the chosen repair into view where it is out of it."""
        if self.chosen and self.brought is not None:
            at = self.brought.taken.repairs[self.chosen - 1].at
            x, y = self.camera.to_screen(at)
            if not (0.0 < x < self.camera.width and 0.0 < y < self.camera.height):
                self.camera = self.camera.seeing(self.camera.scale, at)
                self._fitted = False
        self.update()

    def show_after(self, after: bool) -> None:
        """Show what was made of the drawing, or the drawing as it came."""
        self.after = after
        self.update()

    def fit(self) -> None:
        """Show all of it."""
        self._fitted = True
        if self._frame is not None:
            self.camera = self.camera.fitting(self._frame, 0.08)
        self.update()

    def zoom(self, factor: float, about: XY | None = None) -> None:
        """Come closer to a pixel, or to the middle."""
        self._fitted = False
        middle = (0.5 * self.camera.width, 0.5 * self.camera.height)
        self.camera = self.camera.zoomed(factor, about or middle)
        self.update()

    def pan(self, dx: float, dy: float) -> None:
        """Move the drawing by pixels."""
        self._fitted = False
        self.camera = self.camera.panned(dx, dy)
        self.update()

    def marks(self) -> tuple[RepairMark, ...]:
        """Return the marks at the scale that is shown; they are laid out once for each."""
        brought = self.brought
        if brought is None:
            return ()
        seen = (self.camera.scale, self.fontMetrics().height())
        if self._marks_of is not brought or self._marks_seen != seen:
            self._marks_of, self._marks_seen = brought, seen
            height = NUMBER * self.fontMetrics().height() / self.camera.scale
            near: list[Curve] = []
            if self._fitted and len(brought.drawn) <= FEW:
                near = [each.curve for each in brought.drawn]
            self._marks = repair_marks(brought.taken.repairs, height, near)
        return self._marks

    # Painting.

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the drawing and its marks."""
        painter = QPainter(self)
        try:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.fillRect(self.rect(), QColor(self.look.sheet))
            if self.brought is None:
                painter.setPen(QColor(self.look.dims))
                painter.drawText(QRectF(self.rect()).adjusted(16, 16, -16, -16),
                                 int(Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap),
                                 self.waiting_for)
            else:
                self._paint(painter, self.brought)
            if self.hasFocus():
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.setPen(pen_of(self.look.focus, 2.0))
                painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
        except Exception:  # noqa: BLE001 - an exception that leaves an override can end the process
            sys.excepthook(*sys.exc_info())
        finally:
            painter.end()

    def _paint(self, painter: QPainter, brought: Brought) -> None:
        look, drawn = self.look, [each.curve for each in brought.drawn]
        if self.after:
            paint_curves(painter, drawn, self.camera, pen_of(look.scribe, 1.0, dashed=True))
            for number, made in enumerate(brought.made):
                chosen = number == self.number
                paint_curves(painter, made, self.camera,
                             pen_of(look.ink if chosen else look.quiet, 2.0 if chosen else 1.4))
        else:
            paint_curves(painter, drawn, self.camera, pen_of(look.ink, 1.4))
        if len(brought.made) > 1:
            self._name_parts(painter, brought)
        repairs = brought.taken.repairs
        if self.chosen and not self.after:
            paint_curves(painter, repairs[self.chosen - 1].before, self.camera,
                         pen_of(look.preview, 3.0))
        for mark in self.marks():
            self._paint_mark(painter, mark, repairs)

    def _name_parts(self, painter: QPainter, brought: Brought) -> None:
        """Write the number of each part into its middle."""
        font = QFont(self.font())
        font.setPointSizeF(1.6 * font.pointSizeF())
        for number, made in enumerate(brought.made):
            if not made:
                continue
            x0, y0, x1, y1 = bounds_of(made)
            x, y = self.camera.to_screen((0.5 * (x0 + x1), 0.5 * (y0 + y1)))
            font.setBold(number == self.number)
            painter.setFont(font)
            painter.setPen(QColor(self.look.dims))
            room = QRectF(x - 60.0, y - 20.0, 120.0, 40.0)
            words = f"[{number + 1}]" if number == self.number else str(number + 1)
            painter.drawText(room, int(Qt.AlignmentFlag.AlignCenter), words)

    def _paint_mark(
        self, painter: QPainter, mark: RepairMark, repairs: tuple[Repair, ...]
    ) -> None:
        """Paint a ring, dashed where nothing is done, and beside it letters and numbers."""
        here = [repairs[number - 1] for number in mark.numbers]
        chosen = self.chosen in mark.numbers
        color = self.look.focus if chosen else (
            self.look.loose if any(each.taken for each in here) else self.look.clash)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(pen_of(color, 3.0 if chosen else 1.6,
                              dashed=not any(each.taken for each in here)))
        x, y = self.camera.to_screen(mark.at)
        radius = mark.radius * self.camera.scale
        painter.drawEllipse(QPointF(x, y), radius, radius)
        font = QFont(self.font())
        font.setBold(chosen)
        painter.setFont(font)
        kinds = dict.fromkeys(LETTERS.get(each.kind, each.kind[:1].upper()) for each in here)
        words = f"{'/'.join(kinds)} {mark.label}"
        box = QFontMetricsF(font).boundingRect(words)
        lx, ly = self.camera.to_screen(mark.label_at)
        # Letters make it wider than what the marks were laid out for: it grows away from the ring.
        laid_out = len(mark.label) * DIGIT * NUMBER * self.fontMetrics().height()
        if abs(lx - x) > 1.0:
            lx += copysign(0.5 * max(0.0, box.width() + 6.0 - laid_out), lx - x)
        room = QRectF(lx - 0.5 * box.width() - 3.0, ly - 0.5 * box.height(), box.width() + 6.0,
                      box.height())
        painter.setPen(QColor(self.look.dims))
        painter.drawText(room, int(Qt.AlignmentFlag.AlignCenter), words)

    # Events.

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the whole drawing in view where it was."""
        self.camera = self.camera.resized(self.width(), self.height())
        if self._fitted:
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
        at = (event.position().x(), event.position().y())
        numbers = [n for mark in self.marks() if self._is_on(mark, at) for n in mark.numbers]
        if numbers:
            turn = numbers.index(self.chosen) + 1 if self.chosen in numbers else 0
            self.picked.emit(numbers[turn % len(numbers)])

    def _is_on(self, mark: RepairMark, at: XY) -> bool:
        x, y = self.camera.to_screen(mark.at)
        lx, ly = self.camera.to_screen(mark.label_at)
        high = self.fontMetrics().height()
        return hypot(at[0] - x, at[1] - y) <= max(mark.radius * self.camera.scale, 0.5 * high) or (
            abs(at[0] - lx) <= 0.4 * high * (len(mark.label) + 2) and abs(at[1] - ly) <= 0.6 * high)

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
