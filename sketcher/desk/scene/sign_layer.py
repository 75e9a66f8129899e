"""Signs of bindings, marks of loose points, and arrows that show how these can move."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from sketcher.board.dimensions.shown_center_lines import marked_places
from sketcher.board.dimensions.sign_room import SIGN
from sketcher.desk.scene.layer import Layer
from sketcher.desk.scene.signs import draw_sign
from sketcher.geometry.curves import XY
from sketcher.geometry.vectors import normalized

# With more loose points than this, only those under the pointer or selected get arrows.
MOST_ARROWS = 60
# Past this many, plain dots mark the loose points: rings would cost more than the lines.
MOST_RINGS = 150
ARROW = 26.0


class SignLayer(Layer):
    """What stands on top of the lines."""

    def draw(self, painter: QPainter) -> None:
        """Paint centers, loose points, arrows, signs and the chosen points."""
        self._centers(painter)
        self._loose(painter)
        self._signs(painter)
        self._chosen(painter)

    def _centers(self, painter: QPainter) -> None:
        """Mark the centers like a punch mark: a short cross, where no center line has its own."""
        board, camera = self.sheet.board, self.sheet.camera
        has_plus = marked_places(board.bench.derived.center_lines_at_hand()) \
            if self.sheet.shows("centers") else ()
        marked = {(round(x, 4), round(y, 4)) for x, y in has_plus}
        places = self.sheet.near(self.sheet.places.at_centers)
        if marked:
            places = [at for at in places if (round(at[0], 4), round(at[1], 4)) not in marked]
        lines = []
        for x, y in camera.all_to_screen(places):
            lines += [QLineF(x - 4, y, x + 4, y), QLineF(x, y - 4, x, y + 4)]
        painter.setPen(QPen(QColor(self.sheet.look.quiet), 1.0))
        painter.drawLines(lines)

    def _loose(self, painter: QPainter) -> None:
        board, look = self.sheet.board, self.sheet.look
        picked = {*board.bench.hover, *board.bench.selection.ids}
        sheet = self.sheet
        places = sheet.places
        if sheet.shows("motion"):
            few = len(board.report.loose) <= MOST_ARROWS
            for loose, at in places.loose_at(None if few else picked):
                self._arrows(painter, sheet.camera.to_screen(at), loose.directions)
        rings = [QPointF(x, y)
                 for x, y in sheet.camera.all_to_screen(sheet.near(places.at_loose))]
        if len(places.loose) > MOST_RINGS:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
            painter.setPen(QPen(QColor(look.loose), 5.0))
            painter.drawPoints(QPolygonF(rings))
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
            return
        painter.setPen(QPen(QColor(look.loose), 1.6))
        painter.setBrush(QColor(look.sheet))
        for ring in rings:
            painter.drawEllipse(ring, 3.6, 3.6)

    def _arrows(self, painter: QPainter, at: XY, directions: tuple[XY, ...]) -> None:
        """Draw the ways in which a point can move; a free radius goes in and out."""
        ways = directions or ((1.0, 0.0),)
        painter.setPen(QPen(QColor(self.sheet.look.loose), 1.3))
        for dx, dy in ways:
            x, y = normalized((dx, dy))
            if (x, y) == (0.0, 0.0):
                continue
            for sense in (1.0, -1.0):
                ux, uy = sense * x, -sense * y
                tip = QPointF(at[0] + ux * ARROW, at[1] + uy * ARROW)
                painter.drawLine(QPointF(at[0] + ux * 9, at[1] + uy * 9), tip)
                painter.drawPolyline(QPolygonF([
                    QPointF(tip.x() - 6 * ux - 3 * uy, tip.y() - 6 * uy + 3 * ux), tip,
                    QPointF(tip.x() - 6 * ux + 3 * uy, tip.y() - 6 * uy - 3 * ux),
                ]))

    def _signs(self, painter: QPainter) -> None:
        board, look = self.sheet.board, self.sheet.look
        lit = {*self.sheet.lit, *board.bench.selection.ids, *board.preview.lit, *board.bench.hover}
        px, frame_now = self.sheet.px, self.sheet.frame.adjusted(-SIGN, -SIGN, SIGN, SIGN)
        for glyph in self.sheet.signs():
            at = QPointF(*self.sheet.camera.to_screen(glyph.place(px)))
            if not frame_now.contains(at) or not self.sheet.near(np.array([glyph.place(px)])):
                continue
            frame = QRectF(at.x() - SIGN / 2, at.y() - SIGN / 2, SIGN, SIGN)
            chosen, bad = glyph.binding in lit, glyph.state == "clashing"
            painter.setPen(QPen(QColor(look.clash if bad else look.dim_lines), 1.0))
            painter.setBrush(QColor(look.chosen if chosen else look.sheet))
            painter.drawRoundedRect(frame, 4, 4)
            ink = look.chosen_text if chosen else look.clash if bad else look.glyph
            draw_sign(painter, glyph.kind, at, SIGN / 2 - 3, ink)
            painter.setPen(QPen(QColor(look.clash), 1.4))
            if bad:
                painter.drawLine(frame.bottomLeft(), frame.topRight())
            elif glyph.state == "doubled":
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRoundedRect(frame.adjusted(-2.5, -2.5, 2.5, 2.5), 5, 5)

    def _chosen(self, painter: QPainter) -> None:
        """Ring the points that are selected, lit or under the pointer."""
        board, look = self.sheet.board, self.sheet.look
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for names, colour, size in (
            (board.bench.hover, look.hover, 6.0), (self.sheet.lit, look.hover, 7.0),
            (board.bench.selection.ids, look.preview, 5.5),
        ):
            painter.setPen(QPen(QColor(colour), 2.4))
            for name in names:
                if name in board.part.points:
                    x, y = self.sheet.camera.to_screen(board.part.points[name])
                    painter.drawEllipse(QPointF(x, y), size, size)
