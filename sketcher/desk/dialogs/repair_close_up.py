"""One repair from near: the drawing as it came, and beside it what the repair makes of it."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from math import hypot

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from sketcher.board.files.bringing_in import Brought
from sketcher.desk.dialogs.drawn_curves import paint_curves, paint_ends, pen_of
from sketcher.desk.looks import Look
from sketcher.desk.scene.camera import Camera
from sketcher.geometry.bounds import Box, bounds, bounds_of, boxes_meet
from sketcher.geometry.curves import XY, Curve
from sketcher.intake.linework import Repair

ROOM = 6.0
"""How many times the size of a repair a picture is wide; what moves nothing is shown whole."""
LOCAL = ("gap", "tangent", "speck")
"""Kinds of which only the place itself is looked at."""
LEAST_SHARE = 1e-7
"""Of the drawing's size: nearer than that no digit of the file tells anything."""


class RepairCloseUp(QWidget):
    """Two pictures side by side, of the same place at the same scale."""

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self.look = look
        self.brought: Brought | None = None
        self.repair: Repair | None = None
        self.setAccessibleName("The repair from near")
        self.setMinimumHeight(70)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)

    def sizeHint(self) -> QSize:
        """Return room for two small pictures."""
        return QSize(400, 150)

    def show_repair(self, brought: Brought | None, repair: Repair | None) -> None:
        """Show another repair."""
        self.brought, self.repair = brought, repair
        self.setAccessibleDescription(repair.text if repair is not None else "")
        self.update()

    def camera(self, width: float, height: float) -> Camera:
        """Return from where the repair is seen, in a picture of a size."""
        assert self.repair is not None
        assert self.brought is not None
        repair, whole = self.repair, bounds_of(each.curve for each in self.brought.drawn)
        x, y = repair.at
        changed = around((*repair.before, *repair.after), repair.at)
        if repair.kind not in LOCAL and changed:
            frame = bounds_of(changed)
        else:
            size = hypot(whole[2] - whole[0], whole[3] - whole[1])
            reach = 0.5 * max(ROOM * repair.size, LEAST_SHARE * size)
            if repair.size == 0.0:
                reach = 0.02 * size
            frame = (x - reach, y - reach, x + reach, y + reach)
        return Camera(1.0, (x, y), width, height).fitting(frame, 0.12)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint both pictures."""
        painter = QPainter(self)
        try:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            if self.repair is not None and self.brought is not None:
                half = 0.5 * (self.width() - 6)
                words = "repaired" if self.repair.taken else "if it were repaired"
                self._paint(painter, QRectF(0, 0, half, self.height()), "as drawn",
                            self.repair.before, self.look.clash, dashed=False)
                self._paint(painter, QRectF(half + 6, 0, half, self.height()), words,
                            self.repair.after, self.look.preview, dashed=not self.repair.taken)
        except Exception:  # noqa: BLE001 - an exception that leaves an override can end the process
            sys.excepthook(*sys.exc_info())
        finally:
            painter.end()

    def _paint(
        self, painter: QPainter, room: QRectF, words: str, curves: tuple[Curve, ...], color: str,
        dashed: bool,
    ) -> None:
        assert self.repair is not None
        assert self.brought is not None
        replaced = set(self.repair.before)
        painter.save()
        painter.setClipRect(room)
        painter.fillRect(room, QColor(self.look.sheet))
        painter.translate(room.topLeft())
        camera = self.camera(room.width(), room.height())
        others = [each.curve for each in self.brought.drawn if each.curve not in replaced]
        paint_curves(painter, others, camera, pen_of(self.look.quiet, 1.2))
        paint_curves(painter, curves, camera, pen_of(color, 2.6, dashed))
        paint_ends(painter, curves, camera, color, 3.5)
        painter.restore()
        painter.setPen(QColor(self.look.dims))
        high = self.fontMetrics().height()
        caption = QRectF(room.left() + 4, room.top() + 2,
                         self.fontMetrics().horizontalAdvance(words) + 8, high)
        painter.fillRect(caption, QColor(self.look.sheet))
        painter.drawText(caption, int(Qt.AlignmentFlag.AlignCenter), words)


def around(curves: Sequence[Curve], at: XY) -> list[Curve]:
    """Return the curves that lie about a place: one repair may be done all over the drawing."""
    if not curves:
        return []
    boxes = [bounds(curve) for curve in curves]
    x0, y0, x1, y1 = min(boxes, key=lambda box: _off(box, at))
    reach = max(x1 - x0, y1 - y0)
    near = (x0 - reach, y0 - reach, x1 + reach, y1 + reach)
    return [curve for curve, box in zip(curves, boxes, strict=True) if boxes_meet(box, near)]


def _off(box: Box, at: XY) -> float:
    """Return how far a place is from a box."""
    return hypot(max(box[0] - at[0], 0.0, at[0] - box[2]), max(box[1] - at[1], 0.0, at[1] - box[3]))
