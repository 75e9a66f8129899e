"""A joint under the loupe: enlarged until the eye sees its gap or its break of direction.

A gap is enlarged evenly. A break of direction stays the same angle however near one looks, so the
loupe stretches across the joint only, and says by how much.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi, radians, tan

from PySide6.QtCore import QMarginsF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from sketcher.desk.scene.layer import Layer
from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.geometry.evaluate import joint_angle, point_at, tangent_at
from sketcher.geometry.project import nearest
from sketcher.part.value import Part

SHOWN_BREAK = radians(28.0)
SAMPLES = 81
WIDE, HIGH, MARGIN = 230.0, 170.0, 12.0
CLEAR = 8.0
"""Pixels that lie free between the loupe and what is spoken of."""


@dataclass(frozen=True, slots=True)
class Loupe:
    """What the loupe shows.

    Parameters
    ----------
    runs : tuple of tuple of (x, y)
        The curves as points from -1 to 1 in both directions.
    across : float
        How much more the picture is stretched across the joint than along it.
    width : float
        Part units from the left edge to the right.
    title : str
        What is seen.
    """

    runs: tuple[tuple[XY, ...], ...]
    across: float
    width: float
    title: str


def look_at(curves: tuple[Curve, Curve], at: XY, gap: float, title: str) -> Loupe:
    """Return the picture of a joint of two curves.

    Parameters
    ----------
    curves : pair of Curve
        The two that meet, or should.
    at : (x, y)
        The place.
    gap : float
        Distance of the two ends; 0 where they meet.
    title : str
        Words above the picture.
    """
    first, second = curves
    ux, uy = tangent_at(first, nearest(first, at).parameter)
    if gap > 0.0:
        half, across = gap * 1.6, 1.0
    else:
        turn = joint_angle(first, second, at)
        turn = max(min(turn, pi - turn), 1e-12)
        half, across = _reach(curves, turn), max(1.0, tan(SHOWN_BREAK) / tan(turn))
    runs = tuple(_run(curve, at, (ux, uy), half, across) for curve in curves)
    return Loupe(runs, across, 2.0 * half, title)


def _reach(curves: tuple[Curve, Curve], turn: float) -> float:
    """Return how far along the curves to look: not so far that an arc bends more than the joint."""
    reach = min(curve.length for curve in curves) / 4.0
    for curve in curves:
        if not isinstance(curve, Line):
            reach = min(reach, 2.0 * curve.radius * turn)
    return max(reach, 1e-12)


def _run(curve: Curve, at: XY, u: XY, half: float, across: float) -> tuple[XY, ...]:
    middle = nearest(curve, at).parameter
    step = 1.5 * half / curve.length if curve.length else 0.0
    low, high = middle - step, middle + step
    if not isinstance(curve, Circle):  # which begins nowhere
        low, high = max(0.0, low), min(1.0, high)
    points = []
    for number in range(SAMPLES):
        x, y = point_at(curve, low + (high - low) * number / (SAMPLES - 1))
        dx, dy = x - at[0], y - at[1]
        points.append(((dx * u[0] + dy * u[1]) / half, (dy * u[0] - dx * u[1]) * across / half))
    return tuple(points)


class LoupeLayer(Layer):
    """Paints the loupe in a corner, the upper right by choice, while something is under it."""

    loupe: Loupe | None = None
    of: Part | None = None
    about: tuple[XY, ...] = ()

    def put(self, loupe: Loupe, curves: Sequence[Curve] = ()) -> None:
        """Put something under the loupe, clear of some curves, until the part changes."""
        self.loupe, self.of = loupe, self.sheet.board.part
        self.about = tuple(point_at(curve, k / (SAMPLES - 1))
                           for curve in curves for k in range(SAMPLES))

    def frame(self) -> QRectF:
        """Return the corner of the sheet where least of what is spoken of is covered."""
        return self._corner()[1]

    @property
    def is_clear(self) -> bool:
        """Whether the loupe covers nothing of what is spoken of."""
        return not self._corner()[0]

    def _corner(self) -> tuple[int, QRectF]:
        """Return the best corner, and how many places of what is spoken of it covers."""
        camera = self.sheet.camera
        right, low = camera.width - WIDE - MARGIN, camera.height - HIGH - MARGIN
        corners = [QRectF(x, y, WIDE, HIGH)
                   for x, y in ((right, MARGIN), (MARGIN, MARGIN), (right, low), (MARGIN, low))]
        at = [QPointF(x, y) for x, y in camera.all_to_screen(self.about)]
        around = QMarginsF(CLEAR, CLEAR, CLEAR, CLEAR)
        covered = [sum(map((corner + around).contains, at)) for corner in corners]
        return min(zip(covered, corners, strict=True), key=lambda pair: pair[0])

    def draw(self, painter: QPainter) -> None:
        """Paint frame, curves and words."""
        if self.loupe is None:
            return
        if self.of is not self.sheet.board.part:
            self.loupe = None  # what it showed may be mended
            return
        look, loupe = self.sheet.look, self.loupe
        frame = self.frame()
        painter.setPen(QPen(QColor(look.preview), 2.0))
        painter.setBrush(QColor(look.field))
        painter.drawRoundedRect(frame, 8, 8)
        metrics = painter.fontMetrics()
        high = metrics.height() + 4.0
        words = QRectF(frame.left() + 8, frame.top() + 4, WIDE - 16, high)
        painter.setPen(QColor(look.text))
        painter.drawText(words, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter,
                         loupe.title)
        unit = self.sheet.board.part.unit
        scale = f"{loupe.width:.2g} {unit} wide"
        if loupe.across > 1.001:
            scale += f", height \N{MULTIPLICATION SIGN} {loupe.across:,.0f}"
        words.moveBottom(frame.bottom() - 2)
        font = painter.font()
        if font.pointSizeF() > 0:
            font.setPointSizeF(font.pointSizeF() * 0.85)
        painter.setFont(font)
        painter.drawText(words, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, scale)
        self._runs(painter, frame.adjusted(6, high, -6, -high), loupe)

    def _runs(self, painter: QPainter, frame: QRectF, loupe: Loupe) -> None:
        look = self.sheet.look
        painter.setClipRect(frame)
        middle = frame.center()
        reach = frame.width() / 2
        for run, colour, dash in zip(
            loupe.runs, (look.text, look.preview), ([], [6.0, 3.0]), strict=True
        ):
            pen = QPen(QColor(colour), 2.0)
            if dash:
                pen.setDashPattern(dash)
            painter.setPen(pen)
            painter.drawPolyline(QPolygonF(
                [QPointF(middle.x() + x * reach, middle.y() - y * reach) for x, y in run]
            ))


def span_for(gap: float, size: float) -> float:
    """Return how many part units the sheet shows around a leftover to be cleaned up."""
    return max(8.0 * gap, size / 12.0) if gap < size / 100 else 8.0 * gap
