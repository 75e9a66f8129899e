"""Regions that a tool is about to take or to leave: shaded below every line."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath

from sketcher.board.preview import RegionFill
from sketcher.desk.scene.layer import Layer
from sketcher.desk.scene.paths import loop_path


class FillLayer(Layer):
    """Shades and hatches what the preview fills."""

    def draw(self, painter: QPainter) -> None:
        """Paint the regions of the preview."""
        for fill in self.sheet.board.preview.fills:
            self._fill(painter, fill)

    def _fill(self, painter: QPainter, fill: RegionFill) -> None:
        """Shade a region; one that leaves is hatched as well, so that it tells without colour."""
        look = self.sheet.look
        shade = QColor(look.clash if fill.mood == "leaves" else look.preview)
        path = QPainterPath()
        for loop in fill.loops:
            path.addPath(loop_path(loop))
        path = self.sheet.transform.map(path)
        shade.setAlpha(48)
        painter.fillPath(path, shade)
        if fill.mood == "leaves":
            shade.setAlpha(150)
            painter.fillPath(path, QBrush(shade, Qt.BrushStyle.BDiagPattern))
