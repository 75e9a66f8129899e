"""The ground of the sheet: a grid that follows the unit, and the readout's zero."""

from __future__ import annotations

from math import ceil, floor

from PySide6.QtCore import QLineF, QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from sketcher.desk.scene.camera import Camera, grid_step
from sketcher.desk.scene.layer import Layer
from sketcher.desk.scene.pens import pen_on


class GroundLayer(Layer):
    """Colour of the sheet and its grid."""

    _kept: tuple[tuple[Camera, float, int], list[QLineF], list[QLineF]] | None = None

    def draw(self, painter: QPainter) -> None:
        """Paint the grid lines in view."""
        camera, look, board = self.sheet.camera, self.sheet.look, self.sheet.board
        painter.fillRect(self.sheet.frame, QColor(look.sheet))
        if self.sheet.shows("grid"):
            step, strong = grid_step(camera.scale, board.part.unit)
            self._lines(painter, step, strong)
        self._zero(painter)

    def _lines(self, painter: QPainter, step: float, strong: int) -> None:
        look = self.sheet.look
        key = (self.sheet.camera, step, strong)
        if self._kept is None or self._kept[0] != key:
            self._kept = (key, *grid_lines(*key))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        for lines, colour in zip(self._kept[1:], (look.grid, look.grid_strong), strict=True):
            painter.setPen(pen_on(painter, colour, 1.0))
            painter.drawLines(lines)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)

    def _zero(self, painter: QPainter) -> None:
        x, y = self.sheet.camera.to_screen(self.sheet.origin)
        painter.setPen(QPen(QColor(self.sheet.look.scribe), 1.0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(QPointF(x, y), 5.0, 5.0)
        painter.drawLines([QLineF(x - 10, y, x + 10, y), QLineF(x, y - 10, x, y + 10)])


def grid_lines(camera: Camera, step: float, strong: int) -> tuple[list[QLineF], list[QLineF]]:
    """Return the fine and the strong lines in view, in pixels; every `strong`-th is strong."""
    x0, y0, x1, y1 = camera.window
    fine: list[QLineF] = []
    coarse: list[QLineF] = []
    for number in range(ceil(x0 / step), floor(x1 / step) + 1):
        x, _ = camera.to_screen((number * step, 0.0))
        line = QLineF(x, 0.0, x, camera.height)
        (coarse if number % strong == 0 else fine).append(line)
    for number in range(ceil(y0 / step), floor(y1 / step) + 1):
        _, y = camera.to_screen((0.0, number * step))
        line = QLineF(0.0, y, camera.width, y)
        (coarse if number % strong == 0 else fine).append(line)
    return fine, coarse
