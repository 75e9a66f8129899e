"""Compass, straightedge, protractor and pencil as they stand on the sheet; places in pixels."""

from __future__ import annotations

from math import atan2, cos, degrees, dist, hypot, radians, sin

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF

from sketcher.desk.looks import Look
from sketcher.geometry.curves import XY

LEG = 96.0
"""Pixels of a leg of the compass; more where it is opened wide."""
SPREAD = 0.62
"""Share of the opening that a leg then has at least: at 0.5 the legs would lie flat."""
LOW, HIGH = 40.0, 170.0
"""Pixels from the paper up to the hinge, as it is seen from the front: least and most."""
WIDE = 22.0
"""Pixels of the straightedge's width."""
OVER = 26.0
"""Pixels that it reaches beyond what is ruled."""
TICK = 10.0
"""Pixels between two strokes on its edge."""
DISC = 84.0
"""Pixels of the protractor's radius."""


def _edge(look: Look) -> QPen:
    return QPen(QColor(look.glyph), 1.2)


def _body(look: Look, alpha: int = 215) -> QColor:
    colour = QColor(look.raised)
    colour.setAlpha(alpha)
    return colour


def hinge_of(needle: XY, lead: XY) -> XY:
    """Return where the hinge is seen: above the middle, the lower the wider the compass is."""
    wide = dist(needle, lead)
    leg = max(LEG, SPREAD * wide)
    high = min(HIGH, max(LOW, (leg * leg - 0.25 * wide * wide) ** 0.5))
    return 0.5 * (needle[0] + lead[0]), 0.5 * (needle[1] + lead[1]) - high


def draw_compass(painter: QPainter, look: Look, needle: XY, lead: XY) -> None:
    """Draw a compass: two legs that meet in the hinge, one with a needle and one with a lead."""
    hinge = hinge_of(needle, lead)
    painter.setPen(_edge(look))
    painter.setBrush(_body(look, 255))
    painter.drawRect(_box(hinge[0] - 3.0, hinge[1] - 24.0, 6.0, 18.0))
    for foot in (needle, lead):
        painter.setPen(_edge(look))
        painter.setBrush(_body(look))
        painter.drawPolygon(_leg(hinge, foot))
        tip = QPen(QColor(look.glyph if foot is needle else look.preview),
                   1.4 if foot is needle else 3.2)
        tip.setCapStyle(Qt.PenCapStyle.RoundCap)
        painter.setPen(tip)
        painter.drawLine(QPointF(*_towards(foot, hinge, 14.0)), QPointF(*foot))
    painter.setPen(_edge(look))
    painter.setBrush(_body(look, 255))
    painter.drawEllipse(QPointF(*hinge), 7.0, 7.0)
    painter.drawEllipse(QPointF(*hinge), 2.0, 2.0)


def draw_straightedge(painter: QPainter, look: Look, one: XY, other: XY) -> None:
    """Draw a slim ruler that lies along a line, below it where that has a below."""
    long = dist(one, other)
    if long == 0.0:
        return
    dx, dy = (other[0] - one[0]) / long, (other[1] - one[1]) / long
    if dx < 0.0 or (dx == 0.0 and dy > 0.0):  # the same side whichever way the line runs
        one, dx, dy = other, -dx, -dy
    painter.save()
    painter.translate(*one)
    painter.rotate(degrees(atan2(dy, dx)))
    painter.setPen(_edge(look))
    painter.setBrush(_body(look, 120))
    painter.drawRoundedRect(_box(-OVER, 1.5, long + 2.0 * OVER, WIDE), 2.0, 2.0)
    painter.setPen(QPen(QColor(look.glyph), 0.8))
    painter.drawLines([QLineF(k * TICK, 2.0, k * TICK, 8.0 if k % 5 == 0 else 5.0)
                       for k in range(1, int(long / TICK))])
    painter.restore()


def draw_protractor(
    painter: QPainter, look: Look, middle: XY, base: float, turn: float
) -> None:
    """Draw a half disc along its base, with the stroke of an angle.

    Parameters
    ----------
    painter : QPainter
    look : Look
    middle : (float, float)
        Where the lines meet whose angle it measures.
    base, turn : float
        Direction of the base and the angle from it, counter-clockwise in radians.
    """
    painter.save()
    painter.translate(*middle)
    painter.rotate(-degrees(base if turn >= 0.0 else base + turn))
    turn = abs(turn)
    path = QPainterPath(QPointF(DISC, 0.0))
    for k in range(1, 61):
        angle = radians(3.0 * k)
        path.lineTo(DISC * cos(angle), -DISC * sin(angle))
    path.closeSubpath()
    painter.setPen(_edge(look))
    painter.setBrush(_body(look, 120))
    painter.drawPath(path)
    painter.setPen(QPen(QColor(look.glyph), 0.8))
    painter.drawLines([_ray(radians(k), DISC, DISC - (12.0 if k % 30 == 0 else 6.0))
                       for k in range(10, 180, 10)])
    painter.setPen(QPen(QColor(look.preview), 2.0))
    painter.drawLine(_ray(turn, DISC + 8.0, DISC - 16.0))
    painter.drawEllipse(QPointF(0.0, 0.0), 2.0, 2.0)
    painter.restore()


def draw_pencil(painter: QPainter, look: Look, tip: XY) -> None:
    """Draw a pencil that leans to the upper right from its tip."""
    painter.save()
    painter.translate(*tip)
    painter.rotate(35.0)
    painter.setPen(_edge(look))
    painter.setBrush(_body(look))
    painter.drawRect(_box(-4.0, -46.0, 8.0, 34.0))
    painter.drawPolygon(QPolygonF([QPointF(-4.0, -12.0), QPointF(0.0, 0.0), QPointF(4.0, -12.0)]))
    painter.setBrush(QColor(look.preview))
    painter.drawPolygon(QPolygonF([QPointF(-1.4, -4.0), QPointF(0.0, 0.0), QPointF(1.4, -4.0)]))
    painter.restore()


def _box(x: float, y: float, wide: float, high: float) -> QRectF:
    return QRectF(x, y, wide, high)


def _leg(hinge: XY, foot: XY) -> QPolygonF:
    """Return a leg that narrows from the hinge to where its tip is held."""
    end = _towards(foot, hinge, 12.0)
    long = dist(hinge, end) or 1.0
    nx, ny = -(end[1] - hinge[1]) / long, (end[0] - hinge[0]) / long
    return QPolygonF([
        QPointF(hinge[0] + 4.5 * nx, hinge[1] + 4.5 * ny),
        QPointF(end[0] + 2.0 * nx, end[1] + 2.0 * ny),
        QPointF(end[0] - 2.0 * nx, end[1] - 2.0 * ny),
        QPointF(hinge[0] - 4.5 * nx, hinge[1] - 4.5 * ny)])


def _towards(place: XY, other: XY, by: float) -> XY:
    dx, dy = other[0] - place[0], other[1] - place[1]
    share = by / (hypot(dx, dy) or 1.0)
    return place[0] + share * dx, place[1] + share * dy


def _ray(angle: float, far: float, near: float) -> QLineF:
    c, s = cos(angle), -sin(angle)
    return QLineF(near * c, near * s, far * c, far * s)
