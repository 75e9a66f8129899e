"""The program's own drawings as icons in the colour of the look, sharp at every scale."""

from __future__ import annotations

from PySide6.QtCore import QByteArray, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from sketcher.errors import FileError
from sketcher.shipped import shipped

DEFAULT = "tool"


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
    renderer = QSvgRenderer(QByteArray(picture(name).replace("currentColor", colour).encode()))
    image = QPixmap(QSize(round(size * ratio), round(size * ratio)))
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    renderer.render(painter)
    painter.end()
    image.setDevicePixelRatio(ratio)
    made = QIcon(image)
    painter.begin(image)  # a copy from here on: the same strokes in the other colour
    painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_SourceIn)
    painter.fillRect(image.rect(), QColor(chosen))
    painter.end()
    made.addPixmap(image, QIcon.Mode.Normal, QIcon.State.On)
    return made
