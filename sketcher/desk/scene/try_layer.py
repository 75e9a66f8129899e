"""Over a step that somebody draws: the names in its sentence, and the answer where it is wanted."""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from sketcher.board.teaching.beats import Beat
from sketcher.board.teaching.own_try import TryStart
from sketcher.desk.scene.curve_layer import stroke_curves
from sketcher.desk.scene.layer import Layer
from sketcher.desk.scene.names_beside import Called, write_names
from sketcher.desk.scene.pens import pen_on
from sketcher.desk.scene.scene_state import SceneState
from sketcher.part.whole import half

DOT = 3.0
"""Pixels from a point to the edge of its dot."""


class TryLayer(Layer):
    """Marks the points that were found before, and shows the answer when it is asked for.

    Parameters
    ----------
    sheet : SceneState
    height : float
    start : TryStart
    names : tuple of str
        What the sentence speaks of.
    """

    def __init__(
        self, sheet: SceneState, height: float, start: TryStart, names: tuple[str, ...]
    ) -> None:
        super().__init__(sheet, height)
        self.start = start
        self.shows_answer = False
        curves = half(start.part)
        self._called = [
            Called(name, (curves[name],) if name in curves else (), start.part.points.get(name))
            for name in names if name in curves or name in start.part.points]

    def draw(self, painter: QPainter) -> None:
        """Paint dots, the answer, and names."""
        look, camera = self.sheet.look, self.sheet.camera
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(look.scribe))
        for thing in self._called:
            if thing.at is not None:
                painter.drawEllipse(QPointF(*camera.to_screen(thing.at)), DOT, DOT)
        called = list(self._called)
        if self.shows_answer:
            for beat in self.start.wanted:
                self._answer(painter, beat)
                if not beat.at_once and all(one.name != beat.name for one in called):
                    called.append(Called(beat.name, beat.curves, beat.at, True))
        write_names(painter, self.sheet, called)

    def _answer(self, painter: QPainter, beat: Beat) -> None:
        look = self.sheet.look
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if beat.at is not None:
            painter.setPen(QPen(QColor(look.preview), 1.8))
            painter.drawEllipse(QPointF(*self.sheet.camera.to_screen(beat.at)), 2 * DOT, 2 * DOT)
        else:
            painter.setPen(pen_on(painter, look.preview, 1.8, [4.0, 3.0]))
            stroke_curves(painter, self.sheet, beat.curves)
