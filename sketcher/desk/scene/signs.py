"""Signs of the binding kinds, drawn for this program: strokes in a box from -1 to 1, y up.

A stroke is a polyline; a ring is ``(x, y, radius)``; a dot is a filled ring.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPen, QPixmap, QPolygonF

Stroke = tuple[tuple[float, float], ...]
Ring = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Sign:
    """One sign."""

    strokes: tuple[Stroke, ...] = ()
    rings: tuple[Ring, ...] = ()
    dots: tuple[Ring, ...] = ()


# Level and plumb show the bubble of a spirit level and the bob on its string.
SIGNS: dict[str, Sign] = {
    "level": Sign((((-0.9, -0.5), (0.9, -0.5)), ((-0.35, -0.5), (-0.35, 0.1)),
                   ((0.35, -0.5), (0.35, 0.1))), ((0.0, -0.1, 0.26),)),
    "plumb": Sign((((0.0, 0.95), (0.0, -0.1)),
                   ((-0.35, -0.1), (0.35, -0.1), (0.0, -0.95), (-0.35, -0.1)))),
    "parallel": Sign((((-0.8, -0.6), (0.3, 0.8)), ((-0.2, -0.8), (0.9, 0.6)))),
    "square": Sign((((-0.7, 0.85), (-0.7, -0.7), (0.85, -0.7)),
                    ((-0.7, -0.15), (-0.15, -0.15), (-0.15, -0.7)))),
    "in line": Sign((((-0.95, 0.0), (-0.3, 0.0)), ((0.3, 0.0), (0.95, 0.0))), (),
                    ((0.0, 0.0, 0.18),)),
    "on": Sign((((-0.95, -0.35), (0.95, -0.35)),), ((0.0, -0.35, 0.34),), ((0.0, -0.35, 0.12),)),
    "middle": Sign((((-0.9, -0.3), (0.9, -0.3)), ((-0.9, -0.6), (-0.9, 0.0)),
                    ((0.9, -0.6), (0.9, 0.0)), ((-0.3, 0.7), (0.0, 0.0), (0.3, 0.7)))),
    "equal": Sign((((-0.7, 0.3), (0.7, 0.3)), ((-0.7, -0.3), (0.7, -0.3)))),
    "concentric": Sign((), ((0.0, 0.0, 0.85), (0.0, 0.0, 0.42)), ((0.0, 0.0, 0.1),)),
    "tangent": Sign((((-0.95, -0.7), (0.95, -0.7)),), ((0.0, 0.0, 0.7),)),
    "reflected": Sign((((0.0, 0.95), (0.0, 0.3)), ((0.0, 0.1), (0.0, -0.1)),
                       ((0.0, -0.3), (0.0, -0.95)),
                       ((-0.85, -0.6), (-0.3, 0.0), (-0.85, 0.6), (-0.85, -0.6)),
                       ((0.85, -0.6), (0.3, 0.0), (0.85, 0.6), (0.85, -0.6)))),
    "fixed": Sign((((-0.8, -0.3), (0.8, -0.3)), ((0.0, 0.8), (0.0, -0.3)),
                   ((-0.5, -0.3), (-0.8, -0.85)), ((0.1, -0.3), (-0.2, -0.85)),
                   ((0.7, -0.3), (0.4, -0.85)))),
    "distance": Sign((((-0.8, -0.6), (0.8, 0.6)), ((-0.95, -0.3), (-0.65, -0.9)),
                      ((0.65, 0.9), (0.95, 0.3)))),
    "run": Sign((((-0.8, -0.2), (0.8, -0.2)), ((-0.8, -0.7), (-0.8, 0.7)),
                 ((0.8, -0.7), (0.8, 0.3)))),
    "rise": Sign((((0.2, -0.8), (0.2, 0.8)), ((-0.7, -0.8), (0.7, -0.8)),
                  ((-0.3, 0.8), (0.7, 0.8)))),
    "offset": Sign((((-0.9, -0.7), (0.9, -0.7)), ((-0.9, 0.5), (0.9, 0.5)),
                    ((0.0, -0.7), (0.0, 0.5)))),
    "angle": Sign((((0.8, 0.7), (-0.8, -0.7), (0.9, -0.7)),
                   ((0.3, -0.7), (0.25, -0.3), (0.05, 0.02)))),
    "radius": Sign((((-0.9, -0.7), (0.45, 0.45)), ((0.05, 0.4), (0.45, 0.45), (0.4, 0.05)),
                    ((-0.3, 0.9), (0.35, 0.55), (0.75, 0.0), (0.85, -0.6)))),
    "diameter": Sign((((-0.9, -0.9), (0.9, 0.9)),), ((0.0, 0.0, 0.7),)),
}
UNKNOWN = Sign((((-0.5, 0.4), (0.0, 0.8), (0.5, 0.4), (0.0, -0.1)),), (), ((0.0, -0.6, 0.12),))


def draw_sign(painter: QPainter, kind: str, at: QPointF, half: float, colour: str) -> None:
    """Draw the sign of a kind around `at`, `half` pixels from its middle to its edge."""
    sign = SIGNS.get(kind, UNKNOWN)
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
