"""Names beside the points and curves that a sentence speaks of, clear of each other."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import hypot

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter

from sketcher.desk.scene.scene_state import SceneState
from sketcher.geometry.curves import XY, Arc, Circle, Curve
from sketcher.geometry.evaluate import midpoint, point_at, start_of

AIR = 9.0
"""Pixels between a thing and its name."""
WAYS = ((0.8, -0.6), (-0.8, -0.6), (0.8, 0.6), (-0.8, 0.6), (0.0, -1.0), (0.0, 1.0), (1.0, 0.0),
        (-1.0, 0.0))
"""Directions in which a name may stand from its thing, in pixels, the best first."""


@dataclass(frozen=True, slots=True)
class Called:
    """A thing that has a name: a point at a place, or curves; `now` is what is being drawn."""

    name: str
    curves: tuple[Curve, ...] = ()
    at: XY | None = None
    now: bool = False


def write_names(painter: QPainter, sheet: SceneState, things: Iterable[Called]) -> None:
    """Write the name of each thing beside it, where there is room in view."""
    metrics, taken = QFontMetricsF(sheet.font), list[QRectF]()
    painter.setFont(sheet.font)
    for thing in things:
        size = (metrics.horizontalAdvance(thing.name) + 6.0, metrics.height())
        place = _room(sheet.frame, _anchors(sheet, thing), size, taken)
        if place is not None:
            taken.append(place)
            _write(painter, sheet, place, thing)


def _anchors(sheet: SceneState, thing: Called) -> Iterable[XY]:
    """Return places in pixels beside which a name may stand, the best first."""
    to = sheet.camera.to_screen
    if thing.at is not None:
        return (to(thing.at),)
    curve = thing.curves[0]
    if isinstance(curve, Circle):
        return [to(point_at(curve, t)) for t in (0.125, 0.375, 0.625, 0.875)]
    if len(thing.curves) > 1 or isinstance(curve, Arc):
        return [to(midpoint(one)) for one in thing.curves] + [to(start_of(curve))]
    return [to(point_at(curve, t)) for t in (0.5, 0.3, 0.7, 0.15, 0.85)]


def _room(
    frame: QRectF, anchors: Iterable[XY], size: tuple[float, float], taken: Sequence[QRectF]
) -> QRectF | None:
    """Return a place beside an anchor, in view and free of other names."""
    wide, high = size
    far = hypot(0.5 * wide, 0.5 * high)
    for x, y in anchors:
        for dx, dy in WAYS:
            reach = AIR + min(far, abs(dx) * 0.5 * wide + abs(dy) * 0.5 * high)
            place = QRectF(x + dx * reach - 0.5 * wide, y + dy * reach - 0.5 * high, wide, high)
            if frame.contains(place) and not any(place.intersects(other) for other in taken):
                return place
    return None


def _write(painter: QPainter, sheet: SceneState, place: QRectF, thing: Called) -> None:
    ground = QColor(sheet.look.sheet)
    ground.setAlpha(210)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ground)
    painter.drawRoundedRect(place, 3.0, 3.0)
    painter.setPen(QColor(sheet.look.preview if thing.now else sheet.look.dims))
    painter.drawText(place, Qt.AlignmentFlag.AlignCenter, thing.name)
