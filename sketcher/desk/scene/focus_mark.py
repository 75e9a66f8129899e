"""A thin line along the foot of the sheet while the keyboard goes there."""

from __future__ import annotations

import sys

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QAbstractScrollArea, QFrame

THICK = 2
"""Pixels: as thin as a focus mark may be (WCAG 2.2, 2.4.13)."""


class FocusMark(QFrame):
    """Lies over a scroll area; a style sheet's own border would shift what the area shows."""

    def __init__(self, area: QAbstractScrollArea) -> None:
        super().__init__(area.viewport())
        self._port = area.viewport()
        self.setObjectName("focus_mark")
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setVisible(area.hasFocus())
        for watched in (area, area.viewport()):
            watched.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Follow the area's focus and the viewport's size."""
        try:
            kind = event.type()
            if kind in (QEvent.Type.FocusIn, QEvent.Type.FocusOut) \
                    and watched is not self._port:
                self.setVisible(kind == QEvent.Type.FocusIn)
            elif kind == QEvent.Type.Resize and watched is self._port:
                room = self._port.rect()
                self.setGeometry(0, room.height() - THICK, room.width(), THICK)
        except Exception:  # noqa: BLE001 - an exception that leaves an override can end the process
            sys.excepthook(*sys.exc_info())
        return False
