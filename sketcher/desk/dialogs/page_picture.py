"""A page with very much on it, painted into a picture a slice at a time, so that nothing waits."""

from __future__ import annotations

import time
from collections.abc import Iterator
from dataclasses import dataclass

from PySide6.QtCore import QObject, QRectF, QSize, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QImage, QPainter

from sketcher.drafting.page import Page
from sketcher.drafting.primitives import Item
from sketcher.exchange.pdf import paint_item, stand_on

FEW = 800
"""Items of a page that is painted at once, in some 30 ms."""
SLICE = 0.025
"""Seconds of painting in one event."""


@dataclass(frozen=True, slots=True)
class Sight:
    """What is seen of a page: where it lies on the widget, the widget's size, its pixel ratio."""

    page: Page
    box: QRectF
    size: QSize
    ratio: float


class PagePicture(QObject):
    """The picture of the last sight of a page, and the one that is being painted.

    Signals
    -------
    made()
        The picture of the sight that was asked for last is there.
    """

    made = Signal()

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._shown: tuple[Sight, QImage] | None = None
        self._asked: Sight | None = None
        self._image = QImage()
        self._left: Iterator[Item] = iter(())
        self._timer = QTimer(self)
        self._timer.timeout.connect(self._paint_on)

    @property
    def done(self) -> bool:
        """Whether nothing is left to be painted."""
        return not self._timer.isActive()

    def paint(self, painter: QPainter, sight: Sight) -> None:
        """Paint what there is of a sight: until its picture is made, the one before in its place.

        Parameters
        ----------
        painter : QPainter
            Of the widget, in its pixels.
        sight : Sight
        """
        if sight != self._asked:
            self._begin(sight)
        if self._shown is not None and self._shown[0].page is sight.page:
            was, image = self._shown
            grown = sight.box.width() / was.box.width()
            painter.save()
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, grown != 1.0)
            painter.translate(sight.box.topLeft() - was.box.topLeft() * grown)
            painter.scale(grown, grown)
            painter.drawImage(0, 0, image)
            painter.restore()

    def drop(self) -> None:
        """Stop painting and forget all pictures."""
        self._timer.stop()
        self._shown = self._asked = None

    def _begin(self, sight: Sight) -> None:
        self._asked = sight
        self._image = QImage(sight.size * sight.ratio, QImage.Format.Format_ARGB32_Premultiplied)
        self._image.setDevicePixelRatio(sight.ratio)
        self._image.fill(Qt.GlobalColor.transparent)
        self._left = iter(sight.page.all_items())
        self._timer.start(0)

    @Slot()
    def _paint_on(self) -> None:
        assert self._asked is not None
        if self._paint_slice(self._asked):
            self._timer.stop()
            self._shown = (self._asked, self._image)
            self.made.emit()

    def _paint_slice(self, sight: Sight) -> bool:
        """Paint on for a moment; return whether all is painted."""
        end = time.monotonic() + SLICE
        painter = QPainter(self._image)
        try:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.translate(sight.box.topLeft())
            scale = sight.box.width() / sight.page.size[0]
            painter.scale(scale, scale)
            stand_on(painter, sight.page)
            for item in self._left:
                paint_item(painter, item, sight.page)
                if time.monotonic() > end:
                    return False
        finally:
            painter.end()
        return True
