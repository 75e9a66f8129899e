"""Curves of a foreign drawing painted with a pen, seen through a camera."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QTransform

from sketcher.desk.scene.camera import Camera
from sketcher.desk.scene.paths import LARGE, path_of, visible_path
from sketcher.geometry.bounds import bounds, boxes_meet
from sketcher.geometry.curves import Arc, Circle, Curve, Line

DASHES = (5.0, 4.0)


def pen_of(color: str, width: float, dashed: bool = False) -> QPen:
    """Return a pen of a width in pixels, whatever the scale."""
    pen = QPen(QColor(color), width)
    pen.setCosmetic(True)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    if dashed:
        pen.setDashPattern([length / width for length in DASHES])
    return pen


def paint_curves(
    painter: QPainter, curves: Iterable[Curve], camera: Camera, pen: QPen
) -> None:
    """Paint what of the curves is in view; the painter is in pixels."""
    (left, top), scale = camera.to_screen((0.0, 0.0)), camera.scale
    view = QTransform(scale, 0.0, 0.0, -scale, left, top)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for curve in curves:
        if not isinstance(curve, Line | Arc | Circle) or not boxes_meet(bounds(curve),
                                                                        camera.window):
            continue
        large = isinstance(curve, Line) or curve.radius * scale > LARGE
        painter.drawPath(visible_path(curve, camera) if large else view.map(path_of(curve)))


def paint_ends(
    painter: QPainter, curves: Iterable[Curve], camera: Camera, color: str, radius: float
) -> None:
    """Paint a dot on each end of the curves, so that a gap is seen as one."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(color))
    for curve in curves:
        for end in () if isinstance(curve, Circle) else (curve.start, curve.end):
            painter.drawEllipse(QPointF(*camera.to_screen(end)), radius, radius)
