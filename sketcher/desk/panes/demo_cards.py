"""The demo parts as cards: a picture, the name, and what the part teaches."""

from __future__ import annotations

import json
from dataclasses import dataclass

from PySide6.QtCore import QByteArray, QEvent, QRect, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPixmap, QResizeEvent
from PySide6.QtSvg import QSvgRenderer
from PySide6.QtWidgets import QListView, QListWidget, QListWidgetItem, QWidget

from sketcher.errors import FileError
from sketcher.shipped import shipped

PICTURE = QSize(180, 120)
"""Pixels of a picture."""
SIDE, AIR = 12, 16
"""Pixels left and right of a card's picture, and above and below what stands on it, together."""
INK, GROUND = "#000000", "#ffffff"
"""Of a picture as it comes."""


@dataclass(frozen=True, slots=True)
class Demo:
    """A shipped demo part: file name, name and the line that says what it teaches."""

    file: str
    name: str
    about: str


def demos() -> tuple[Demo, ...]:
    """Return the shipped demo parts by name; none when they are missing."""
    try:
        folder = shipped("demo_parts")
        teaches = json.loads(shipped("resources", "help/demo_parts.json").read_text("utf-8"))
    except FileError:
        return ()
    found = []
    for entry in sorted(folder.iterdir(), key=lambda e: e.name):
        if entry.name.endswith(".profile.json"):
            told = json.loads(entry.read_text("utf-8"))
            about = teaches.get(entry.name.removesuffix(".profile.json"), "")
            found.append(Demo(entry.name, told["name"], about))
    return tuple(found)


class DemoCards(QListWidget):
    """Cards side by side, as many in a row as fit.

    Parameters
    ----------
    parent : QWidget
    """

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAccessibleName("Demo parts")
        self.setViewMode(QListView.ViewMode.IconMode)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setMovement(QListView.Movement.Static)
        self.setWordWrap(True)
        self.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.setIconSize(PICTURE)
        self.setSpacing(4)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._pictures: dict[str, str] = {}
        self._colours = (INK, GROUND)
        for demo in demos():
            item = QListWidgetItem(f"{demo.name}\n{demo.about}", self)
            item.setData(Qt.ItemDataRole.UserRole, demo.file)
            item.setToolTip("Open a copy; the shipped part stays as it is.")
            item.setTextAlignment(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
            item.setIcon(blank())
        self._size()

    def _size(self) -> None:
        """Make all cards as high as the one with the most words."""
        wide = PICTURE.width() + 2 * SIDE
        room, wraps = QRect(0, 0, wide - SIDE, 10_000), int(Qt.TextFlag.TextWordWrap)
        words = max((self.fontMetrics().boundingRect(room, wraps, self.item(n).text()).height()
                     for n in range(self.count())), default=0)
        self.setGridSize(QSize(wide, PICTURE.height() + words + AIR))

    def changeEvent(self, event: QEvent) -> None:
        """Measure the words anew in another font."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._size()
            self._fit(self.width())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Be as high as the rows of cards at the new width: the page is scrolled, not the list."""
        super().resizeEvent(event)
        self._fit(event.size().width())

    def _fit(self, width: int) -> None:
        across = max(1, width // self.gridSize().width())
        rows = max(1, -(-self.count() // across))
        self.setFixedHeight(rows * self.gridSize().height() + 2 * self.frameWidth() + 4)

    @property
    def files(self) -> tuple[str, ...]:
        """Names of the parts' files, card by card."""
        return tuple(self.item(n).data(Qt.ItemDataRole.UserRole) for n in range(self.count()))

    @property
    def without_picture(self) -> tuple[str, ...]:
        """Names of the files whose picture is not there yet."""
        return tuple(name for name in self.files if name not in self._pictures)

    def show_picture(self, name: str, picture: str) -> None:
        """Put a picture on a card.

        Parameters
        ----------
        name : str
            Of the part's file.
        picture : str
            SVG, black on white.
        """
        self._pictures[name] = picture
        if name in self.files:
            self.item(self.files.index(name)).setIcon(self._icon(picture))

    def wear(self, ink: str, ground: str) -> None:
        """Draw all pictures in the colours of a look."""
        if self._colours != (ink, ground):
            self._colours = (ink, ground)
            for name, picture in self._pictures.items():
                self.show_picture(name, picture)

    def _icon(self, picture: str) -> QIcon:
        ink, ground = self._colours
        drawn = picture.replace(GROUND, ground).replace(INK, ink)
        ratio = self.devicePixelRatioF()
        image = QPixmap(PICTURE * ratio)
        image.fill(QColor(ground))
        painter = QPainter(image)
        QSvgRenderer(QByteArray(drawn.encode())).render(painter)
        painter.end()
        image.setDevicePixelRatio(ratio)
        return QIcon(image)


def blank() -> QIcon:
    """Return what keeps a picture's place."""
    image = QPixmap(PICTURE)
    image.fill(Qt.GlobalColor.transparent)
    return QIcon(image)
