"""The program's own drawings as icons in the colour of the look, sharp at every scale."""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QByteArray, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QImage, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from sketcher.errors import FileError
from sketcher.shipped import shipped

DEFAULT = "tool"
KEPT = 256
"""Painted drawings that are kept: those of all menus, racks and panes in one look."""


def picture(name: str) -> str:
    """Return the drawing of a tool or an action; the plain one where there is none yet."""
    for wanted in (name.replace(" ", "_").replace("-", "_"), DEFAULT):
        try:
            return shipped("resources", f"icons/{wanted}.svg").read_text("utf-8")
        except FileError:
            continue
    raise FileError(f"resources/icons/{name}.svg", "is missing", "install the program again")


def icon(name: str, colour: str, chosen: str, ratio: float, size: int = 22) -> QIcon:
    """Return an icon for on and off states.

    Parameters
    ----------
    name : str
        Name of the drawing.
    colour, chosen : str
        ``#rrggbb``, and the one while the tool is in hand.
    ratio : float
        Device pixels per logical pixel of the screen.
    size : int
        Logical pixels.
    """
    off, on = painted(name, colour, chosen, round(size * ratio))
    made = QIcon()
    for image, state in ((off, QIcon.State.Off), (on, QIcon.State.On)):
        pixmap = QPixmap.fromImage(image)
        pixmap.setDevicePixelRatio(ratio)
        made.addPixmap(pixmap, QIcon.Mode.Normal, state)
    return made


@lru_cache(KEPT)
def painted(name: str, colour: str, chosen: str, pixels: int) -> tuple[QImage, QImage]:
    """Return a drawing in each of two colors; nobody may paint on these."""
    renderer = QSvgRenderer(QByteArray(picture(name).replace("currentColor", colour).encode()))
    off = QImage(QSize(pixels, pixels), QImage.Format.Format_ARGB32_Premultiplied)
    off.fill(Qt.GlobalColor.transparent)
    painter = QPainter(off)
    renderer.render(painter)
    painter.end()
    on = QImage(off)
    painter.begin(on)  # a copy from here on: the same strokes in the other colour
    painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_SourceIn)
    painter.fillRect(on.rect(), QColor(chosen))
    painter.end()
    return off, on
