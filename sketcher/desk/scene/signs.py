"""Paints the signs of binding kinds, on the scene and as icons."""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPen, QPixmap, QPolygonF

from sketcher.part.kinds import KINDS


def draw_sign(painter: QPainter, kind: str, at: QPointF, half: float, colour: str) -> None:
    """Draw the sign of a kind around `at`, `half` pixels from its middle to its edge."""
    sign = KINDS[kind].sign
    pen = QPen(QColor(colour), max(1.1, half / 6.0))
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for stroke in sign.strokes:
        painter.drawPolyline(
            QPolygonF([QPointF(at.x() + half * x, at.y() - half * y) for x, y in stroke])
        )
    for x, y, radius in sign.rings:
        painter.drawEllipse(QPointF(at.x() + half * x, at.y() - half * y), half * radius,
                            half * radius)
    painter.setBrush(QColor(colour))
    for x, y, radius in sign.dots:
        painter.drawEllipse(QPointF(at.x() + half * x, at.y() - half * y), half * radius,
                            half * radius)


def sign_icon(
    kind: str, colour: str, chosen: str = "", size: int = 18, ratio: float = 2.0
) -> QIcon:
    """Return the sign of a kind as an icon, in the colour `chosen` while its row is selected."""
    icon = QIcon(_sign_image(kind, colour, size, ratio))
    if chosen:
        icon.addPixmap(_sign_image(kind, chosen, size, ratio), QIcon.Mode.Selected)
    return icon


def _sign_image(kind: str, colour: str, size: int, ratio: float) -> QPixmap:
    image = QPixmap(int(size * ratio), int(size * ratio))
    image.setDevicePixelRatio(ratio)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    draw_sign(painter, kind, QPointF(size / 2, size / 2), size / 2 - 2, colour)
    painter.end()
    return image
