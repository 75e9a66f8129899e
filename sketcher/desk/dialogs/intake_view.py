"""A foreign drawing with its repairs marked on it, or the parts that were made of it."""

from __future__ import annotations

from math import copysign, hypot

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter
from PySide6.QtWidgets import QWidget

from sketcher.board.files.bringing_in import Brought
from sketcher.board.files.intake_words import LETTERS
from sketcher.desk.dialogs.drawn_curves import paint_curves, pen_of
from sketcher.desk.dialogs.drawn_view import DrawnView
from sketcher.desk.looks import Look
from sketcher.geometry.bounds import bounds_of
from sketcher.geometry.curves import XY, Curve
from sketcher.intake.linework import Repair
from sketcher.intake.repair_marks import DIGIT, RepairMark, repair_marks

FEW = 400
"""Curves up to which the numbers are kept clear of the lines."""
NUMBER = 0.7
"""Height of the numbers that the marks are laid out for, in heights of a line of letters."""


class IntakeView(DrawnView):
    """Shows the drawing; a press on a mark picks its repair."""

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(look, parent)
        self.brought: Brought | None = None
        self.number = 0
        self.after = False
        self._marks: tuple[RepairMark, ...] = ()
        self._marks_of: Brought | None = None
        self._marks_seen: tuple[float, int] | None = None
        self.setAccessibleName("The drawing with its repairs")

    def sizeHint(self) -> QSize:
        """Return a size in which marks find room."""
        return QSize(700, 480)

    # What is shown.

    def show_brought(self, brought: Brought | None, number: int) -> None:
        """Show what came of an intake; the place that is looked at stays."""
        self.brought, self.number = brought, number
        curves = [each.curve for each in brought.drawn] if brought is not None else []
        self.see(bounds_of(curves) if curves else None)

    def place_of(self, number: int) -> XY | None:
        """Return where a repair is."""
        return None if self.brought is None else self.brought.taken.repairs[number - 1].at

    def show_after(self, after: bool) -> None:
        """Show what was made of the drawing, or the drawing as it came."""
        self.after = after
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
            if self.fitted and len(brought.drawn) <= FEW:
                near = [each.curve for each in brought.drawn]
            self._marks = repair_marks(brought.taken.repairs, height, near)
        return self._marks

    # Painting.

    def paint_drawing(self, painter: QPainter) -> bool:
        """Paint the drawing and its marks."""
        if self.brought is None:
            return False
        self._paint(painter, self.brought)
        return True

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

    # Picking.

    def numbers_at(self, pixel: XY) -> list[int]:
        """Return the repairs whose marks lie under a pixel."""
        return [n for mark in self.marks() if self._is_on(mark, pixel) for n in mark.numbers]

    def _is_on(self, mark: RepairMark, at: XY) -> bool:
        x, y = self.camera.to_screen(mark.at)
        lx, ly = self.camera.to_screen(mark.label_at)
        high = self.fontMetrics().height()
        return hypot(at[0] - x, at[1] - y) <= max(mark.radius * self.camera.scale, 0.5 * high) or (
            abs(at[0] - lx) <= 0.4 * high * (len(mark.label) + 2) and abs(at[1] - ly) <= 0.6 * high)
