"""Zooming with two fingers on a touchpad that tells of it."""

from __future__ import annotations

import sys

from PySide6.QtCore import QEvent, QObject, QPointF, Qt, Signal
from PySide6.QtGui import QNativeGestureEvent


class PinchZoom(QObject):
    """Takes the native gestures of a viewport that it is installed on; all other events pass.

    Signals
    -------
    zoomed(float, QPointF)
        A factor, and the pixel to zoom about.
    """

    zoomed = Signal(float, QPointF)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Tell of a pinch; return whether the event was a gesture."""
        if not isinstance(event, QNativeGestureEvent):
            return False
        try:
            if event.gestureType() == Qt.NativeGestureType.ZoomNativeGesture:
                self.zoomed.emit(1.0 + event.value(), event.position())
        except Exception:  # noqa: BLE001 - an exception that leaves an override can end the process
            sys.excepthook(*sys.exc_info())
        return True
