"""Dialogs that fit every screen: what is long scrolls, buttons stay in sight, titles are whole."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QDialogButtonBox,
    QFrame,
    QGridLayout,
    QListWidget,
    QMessageBox,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QSpacerItem,
    QWidget,
)

BESIDE_TITLE = 150
"""Pixels that a window's frame needs beside its title: a sign and up to three buttons."""
FRAME = QSize(16, 40)
"""Pixels of a screen that go to the frame of a dialog and its title."""


class RoomyDialog(QDialog):
    """A dialog that is never larger than the screen and never narrower than its title."""

    def showEvent(self, event: QShowEvent) -> None:
        """Take the room that there is."""
        super().showEvent(event)
        room = self.screen().availableGeometry().size() - FRAME
        least = QSize(title_width(self), 0).boundedTo(room)
        self.setMinimumWidth(max(self.minimumWidth(), least.width()))
        self.resize(self.size().expandedTo(least).boundedTo(room))


def title_width(window: QWidget) -> int:
    """Return the width in which a window's title stands whole."""
    font = QFont(window.font())
    font.setBold(True)  # as many desktops letter titles
    return QFontMetrics(font).horizontalAdvance(window.windowTitle()) + BESIDE_TITLE


def lines_to_read(name: str, lines: Sequence[str], parent: QWidget) -> QListWidget:
    """Return a list of lines that wrap and cannot be chosen."""
    found = QListWidget(parent)
    found.setAccessibleName(name)
    found.setWordWrap(True)
    found.setAlternatingRowColors(True)
    found.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
    found.addItems(list(lines))
    return found


def go_or_stay(dialog: QDialog, yes: str) -> tuple[QDialogButtonBox, QPushButton, QPushButton]:
    """Return a row of buttons, the one that accepts, saying `yes`, and the one that does not.

    Neither is the default yet.
    """
    buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel, dialog)
    go = buttons.addButton(yes, QDialogButtonBox.ButtonRole.AcceptRole)
    buttons.accepted.connect(dialog.accept)
    buttons.rejected.connect(dialog.reject)
    return buttons, go, buttons.button(QDialogButtonBox.StandardButton.Cancel)


def scrolled(body: QWidget, name: str, parent: QWidget) -> QScrollArea:
    """Return a frame in which a body scrolls up and down where the screen is too low for it."""
    area = QScrollArea(parent)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setAccessibleName(name)
    area.setSizeAdjustPolicy(QScrollArea.SizeAdjustPolicy.AdjustToContents)
    area.setWidget(body)
    bar = area.verticalScrollBar().sizeHint().width()
    area.setMinimumWidth(body.minimumSizeHint().width() + bar)
    area.viewport().setAutoFillBackground(False)
    body.setAutoFillBackground(False)
    return area


def whole_title(box: QMessageBox) -> QMessageBox:
    """Widen a message until its title is whole; such a box takes no width in any other way."""
    grid = box.layout()
    if isinstance(grid, QGridLayout):
        wide = QSpacerItem(title_width(box), 0, QSizePolicy.Policy.Minimum,
                           QSizePolicy.Policy.Expanding)
        grid.addItem(wide, grid.rowCount(), 0, 1, grid.columnCount())
    return box
