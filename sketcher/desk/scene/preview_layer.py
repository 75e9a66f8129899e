"""What a tool is about to do: ghosts, guides, snap marks and the word beside the pointer."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from sketcher.board.ledger.doubt_question import other_part
from sketcher.board.preview import Box, Ghost, Mark, Preview, Word
from sketcher.desk.scene.curve_layer import AXIS_DASH, stroke_curve, stroke_curves
from sketcher.desk.scene.dims_layer import draw_dim
from sketcher.desk.scene.layer import Layer, card, card_place
from sketcher.desk.scene.pens import pen_on, thin
from sketcher.desk.scene.scene_state import MANY

MARK = 6.0
# Outlines of the snap marks in a box from -1 to 1, y up; those not here are rings.
SHAPES: dict[str, tuple[tuple[float, float], ...]] = {
    "end": ((-0.8, -0.8), (0.8, -0.8), (0.8, 0.8), (-0.8, 0.8), (-0.8, -0.8)),
    "middle": ((-0.9, -0.7), (0.9, -0.7), (0.0, 0.9), (-0.9, -0.7)),
    "quadrant": ((-1.0, 0.0), (0.0, 1.0), (1.0, 0.0), (0.0, -1.0), (-1.0, 0.0)),
    "crossing": ((-0.8, -0.8), (0.8, 0.8), (0.0, 0.0), (-0.8, 0.8), (0.8, -0.8)),
    "on": ((-0.9, 0.6), (0.9, 0.6), (-0.9, -0.6), (0.9, -0.6), (-0.9, 0.6)),
    "square": ((-0.8, 0.9), (-0.8, -0.8), (0.9, -0.8)),
    "direction": ((-1.0, 0.0), (1.0, 0.0)),
    "handle": ((-0.6, -0.6), (0.6, -0.6), (0.6, 0.6), (-0.6, 0.6), (-0.6, -0.6)),
}


class PreviewLayer(Layer):
    """Paints the board's preview, the keyboard's cursor and nothing that is in the part."""

    def draw(self, painter: QPainter) -> None:
        """Paint guides below ghosts, marks and words on top."""
        board = self.sheet.board
        lit = (*self.sheet.lit, *board.bench.selection.ids)
        preview = board.preview + other_part(board.bench, lit) + Preview(self.sheet.tried)
        look = self.sheet.look
        guide = pen_on(painter, look.guide, 1.0, [3.0, 4.0])
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for item in preview.guides:
            painter.setPen(guide)
            stroke_curve(painter, self.sheet, item.curve)
        self._ghosts(painter, preview.curves)
        for dim in preview.dims:
            draw_dim(painter, self.sheet, dim, look.preview, chosen=False)
        for mark in preview.marks:
            self._mark(painter, mark)
        if preview.box is not None:
            self._box(painter, preview.box)
        self._cursor(painter)
        self._words(painter, preview.words)

    def _ghosts(self, painter: QPainter, ghosts: Iterable[Ghost]) -> None:
        """Paint ghosts, those that follow each other with one pen at a time."""
        for (mood, role), alike in groupby(ghosts, lambda ghost: (ghost.mood, ghost.role)):
            curves, pen = [ghost.curve for ghost in alike], self._pen(painter, mood, role)
            painter.setPen(thin(pen) if len(curves) > MANY else pen)
            stroke_curves(painter, self.sheet, curves)

    def _pen(self, painter: QPainter, mood: str, role: str) -> QPen:
        look = self.sheet.look
        colour = {"image": look.quiet, "leaves": look.clash}.get(mood, look.preview)
        dashes: list[float] = []
        if mood == "leaves":
            dashes = [2.0, 3.0]
        elif role == "axis":
            dashes = AXIS_DASH
        elif mood == "hint":
            dashes = [1.0, 3.0]
        return pen_on(painter, colour, 1.4 if role == "outline" else 1.0, dashes)

    def _mark(self, painter: QPainter, mark: Mark) -> None:
        x, y = self.sheet.camera.to_screen(mark.at)
        painter.setPen(QPen(QColor(self.sheet.look.preview), 1.8))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if mark.shape == "awake":  # four ticks round a point that places line up with
            for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
                painter.drawLine(QPointF(x + 7 * dx, y + 7 * dy), QPointF(x + 12 * dx, y + 12 * dy))
            return
        shape = SHAPES.get(mark.shape)
        if shape is not None:
            painter.drawPolyline(
                QPolygonF([QPointF(x + MARK * a, y - MARK * b) for a, b in shape])
            )
            return
        size = 2.5 if mark.shape == "free" else MARK
        painter.drawEllipse(QPointF(x, y), size, size)
        if mark.shape in ("center", "zero"):
            painter.drawLine(QPointF(x - size, y), QPointF(x + size, y))
            painter.drawLine(QPointF(x, y - size), QPointF(x, y + size))
        elif mark.shape == "tangent":
            painter.drawLine(QPointF(x - 1.5 * size, y - size), QPointF(x + 1.5 * size, y - size))

    def _box(self, painter: QPainter, box: Box) -> None:
        (ax, ay), (bx, by) = (self.sheet.camera.to_screen(corner) for corner in box.corners)
        look = self.sheet.look
        shade = QColor(look.preview)
        shade.setAlpha(30)
        pen = QPen(QColor(look.preview), 1.0)
        if box.touching:
            pen.setDashPattern([6.0, 3.0])
        painter.setPen(pen)
        painter.setBrush(shade)
        painter.drawRect(QRectF(QPointF(ax, ay), QPointF(bx, by)).normalized())

    def _cursor(self, painter: QPainter) -> None:
        """Paint the pointer that the arrow keys move: a scriber's cross with an open middle."""
        if self.sheet.cursor is None:
            return
        x, y = self.sheet.camera.to_screen(self.sheet.cursor)
        painter.setPen(QPen(QColor(self.sheet.look.preview), 1.6))
        for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
            painter.drawLine(QPointF(x + 4 * dx, y + 4 * dy), QPointF(x + 18 * dx, y + 18 * dy))

    def _words(self, painter: QPainter, words: tuple[Word, ...]) -> None:
        look, taken = self.sheet.look, list[QRectF]()
        for word in words:
            x, y = self.sheet.camera.to_screen(word.at)
            place = card_place(QPointF(x + 16, y - 12), word.text, self.sheet.font,
                               self.sheet.frame, taken)
            card(painter, place, word.text, self.sheet.font, look.card, look.card_text)
            taken.append(place)
