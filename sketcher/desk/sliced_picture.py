"""Very much to paint, painted into a picture a slice at a time, so that nothing waits."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeAlias

from PySide6.QtCore import QObject, QPointF, QSize, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QImage, QPainter

SLICE = 0.025
"""Seconds of painting in one event."""

Stroke: TypeAlias = Callable[[QPainter], object]


@dataclass(frozen=True, slots=True)
class Sight:
    """What is seen, compared by value; where its origin lies on the widget, and its scale there.

    `size` is the widget's, `ratio` its pixel ratio.
    """

    of: object
    origin: QPointF
    scale: float
    size: QSize
    ratio: float


class SlicedPicture(QObject):
    """The picture of the last sight, and the one that is being painted.

    Signals
    -------
    made()
        The picture of the sight that was asked for last is there.
    """

    made = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._shown: tuple[Sight, QImage] | None = None
        self._asked: Sight | None = None
        self._image = QImage()
        self._left: Iterator[Stroke] = iter(())
        self._timer = QTimer(self)
        self._timer.timeout.connect(self._paint_on)

    @property
    def done(self) -> bool:
        """Whether nothing is left to be painted."""
        return not self._timer.isActive()

    def paint(
        self, painter: QPainter, sight: Sight, strokes: Callable[[], Iterator[Stroke]]
    ) -> None:
        """Paint what there is of a sight: until its picture is made, one of the same in its place.

        Parameters
        ----------
        painter : QPainter
            Of the widget, in its pixels.
        sight : Sight
        strokes : callable
            Returns what paints the sight, piece by piece, each on a painter in the widget's pixels.
        """
        if sight != self._asked:
            self._begin(sight, strokes())
        if self._shown is not None and self._shown[0].of == sight.of:
            was, image = self._shown
            grown = sight.scale / was.scale
            painter.save()
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, grown != 1.0)
            painter.translate(sight.origin - was.origin * grown)
            painter.scale(grown, grown)
            painter.drawImage(0, 0, image)
            painter.restore()

    def drop(self) -> None:
        """Stop painting and forget all pictures."""
        self._timer.stop()
        self._shown = self._asked = None
        self._left = iter(())

    def _begin(self, sight: Sight, strokes: Iterator[Stroke]) -> None:
        self._asked = sight
        self._image = QImage(sight.size * sight.ratio, QImage.Format.Format_ARGB32_Premultiplied)
        self._image.setDevicePixelRatio(sight.ratio)
        self._image.fill(Qt.GlobalColor.transparent)
        self._left = strokes
        self._timer.start(0)

    @Slot()
    def _paint_on(self) -> None:
        assert self._asked is not None
        if self._paint_slice():
            self._timer.stop()
            self._shown = (self._asked, self._image)
            self.made.emit()

    def _paint_slice(self) -> bool:
        """Paint on for a moment; return whether all is painted."""
        end = time.monotonic() + SLICE
        painter = QPainter(self._image)
        try:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            for stroke in self._left:
                painter.save()
                stroke(painter)
                painter.restore()
                if time.monotonic() > end:
                    return False
        finally:
            painter.end()
        return True
