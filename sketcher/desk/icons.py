"""The program's own drawings as icons in the colour of the look, sharp at every scale."""

from __future__ import annotations

from PySide6.QtCore import QByteArray, QSize, Qt
from PySide6.QtGui import QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from sketcher.errors import FileError
from sketcher.shipped import shipped

DEFAULT = "tool"
RATIOS = (1.0, 2.0, 3.0)


def picture(name: str) -> str:
    """Return the drawing of a tool or an action; the plain one where there is none yet."""
    for wanted in (name.replace(" ", "_").replace("-", "_"), DEFAULT):
        try:
            return shipped("resources", f"icons/{wanted}.svg").read_text("utf-8")
        except FileError:
            continue
    raise FileError(f"resources/icons/{name}.svg", "is missing", "install the program again")


def icon(name: str, colour: str, faint: str, chosen: str, size: int = 24) -> QIcon:
    """Return an icon for on and off states.

    Parameters
    ----------
    name : str
        Name of the drawing.
    colour, faint, chosen : str
        ``#rrggbb`` when enabled, when not, and when the tool is in hand.
    size : int
        Logical pixels.
    """
    made = QIcon()
    text = picture(name)
    modes, states = QIcon.Mode, QIcon.State
    for ink, mode, state in (
        (colour, modes.Normal, states.Off), (faint, modes.Disabled, states.Off),
        (chosen, modes.Normal, states.On),
    ):
        renderer = QSvgRenderer(QByteArray(text.replace("currentColor", ink).encode()))
        for ratio in RATIOS:
            image = QPixmap(QSize(int(size * ratio), int(size * ratio)))
            image.fill(Qt.GlobalColor.transparent)
            painter = QPainter(image)
            renderer.render(painter)
            painter.end()
            image.setDevicePixelRatio(ratio)
            made.addPixmap(image, mode, state)
    return made
