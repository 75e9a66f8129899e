"""One layer of the sheet: an item that never moves and paints what the sheet holds."""

from __future__ import annotations

import sys
from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from sketcher.desk.scene.scene_state import SceneState

# The scene is as large as any screen; layers stand still and the camera moves.
EVERYWHERE = QRectF(0.0, 0.0, 32768.0, 32768.0)
APART = 2.0
"""Pixels between two cards."""


class Layer(QGraphicsItem):
    """Base of the layers; `draw` paints in logical pixels of the viewport."""

    def __init__(self, sheet: SceneState, height: float) -> None:
        super().__init__()
        self.sheet = sheet
        self.setZValue(height)
        self.setAcceptedMouseButtons(Qt.MouseButton.NoButton)

    def boundingRect(self) -> QRectF:
        """Return the whole scene, so that the layer is always asked to paint."""
        return EVERYWHERE

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        """Paint; an error is reported and must not leave an override."""
        painter.save()
        try:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
            self.draw(painter)
        except Exception:  # noqa: BLE001 - an exception that leaves an override can end the process
            sys.excepthook(*sys.exc_info())
        finally:
            painter.restore()

    def draw(self, painter: QPainter) -> None:
        """Paint the layer; subclasses do the work."""
        raise NotImplementedError


def card_place(
    at: QPointF, text: str, font: QFont, within: QRectF, taken: Iterable[QRectF] = ()
) -> QRectF:
    """Return where a card with a word lies whose lower left corner is wanted at `at`.

    It stays inside `within`, and off the cards that lie there already: below them, or above where
    the sheet ends.
    """
    metrics = QFontMetricsF(font)
    place = QRectF(at.x(), at.y() - metrics.height() - 4, metrics.horizontalAdvance(text) + 12,
                   metrics.height() + 4)
    place.moveRight(min(place.right(), within.right()))
    place.moveLeft(max(place.left(), within.left()))
    place.moveBottom(min(place.bottom(), within.bottom()))
    place.moveTop(max(place.top(), within.top()))
    others = sorted((other for other in taken if other.right() > place.left()
                     and other.left() < place.right()), key=QRectF.top)
    lower = QRectF(place)
    for other in others:
        if lower.intersects(other):
            lower.moveTop(other.bottom() + APART)
    if lower.bottom() <= within.bottom():
        return lower
    for other in reversed(others):
        if place.intersects(other):
            place.moveBottom(other.top() - APART)
    return place


def card(
    painter: QPainter, place: QRectF, text: str, font: QFont, ground: str, ink: str
) -> None:
    """Paint a word on a small card."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(ground))
    painter.drawRoundedRect(place, 3, 3)
    painter.setFont(font)
    painter.setPen(QColor(ink))
    painter.drawText(place, Qt.AlignmentFlag.AlignCenter, text)
