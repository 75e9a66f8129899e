"""Where the window stood and how its panes were divided, from one run to the next.

The look and which panes are shown are settings, and remembered with them.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from PySide6.QtCore import QPoint, QRect, QSize
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QWidget

from sketcher.board.settings import MAX_BYTES, write_whole
from sketcher.errors import FileError

NAME = "window.json"
LEAST = QSize(320, 240)
"""What is smaller than this was no size that a person chose."""
IN_SIGHT = 120
"""Pixels of the window's upper edge that a screen must show, so that it can be taken and moved."""


@dataclass(frozen=True, slots=True)
class WindowMemory:
    """What was remembered: place and size on the desktop, whether maximized, widths of the panes.

    `place` and `sizes` are empty where nothing was remembered.
    """

    place: tuple[int, ...] = ()
    maximized: bool = False
    sizes: tuple[int, ...] = ()

    def put(self, window: QWidget) -> bool:
        """Put a window where it was; return False where nothing is known of that."""
        if len(self.place) != 4:
            return False
        x, y, width, height = self.place
        screens = [screen.availableGeometry() for screen in QGuiApplication.screens()]
        there = in_sight(QRect(x, y, width, height), screens)
        window.resize(there.size())
        window.move(there.topLeft())
        return True


def in_sight(wanted: QRect, screens: Sequence[QRect]) -> QRect:
    """Return where a window stands that was at `wanted`, on the screens that there are now.

    Parameters
    ----------
    wanted : QRect
        Its frame as it was.
    screens : sequence of QRect
        The room on each screen, the main one first.

    Returns
    -------
    QRect
        The same where its upper edge can be taken hold of; else as much as fits, wholly on the
        screen that showed most of it, or on the main one.
    """
    size = wanted.size().expandedTo(LEAST)
    edge = QRect(wanted.topLeft(), QSize(size.width(), 24))
    for room in screens:
        seen = edge.intersected(room)
        if seen.width() >= min(IN_SIGHT, size.width()) and seen.height() >= edge.height() \
                and size.width() <= room.width() and size.height() <= room.height():
            return QRect(wanted.topLeft(), size)

    def shown(room: QRect) -> int:
        seen = room.intersected(wanted)
        return max(0, seen.width()) * max(0, seen.height())

    room = max(screens, key=shown)  # the first of equals: the main one where none showed it
    size = size.boundedTo(room.size())
    x = min(max(wanted.x(), room.x()), room.x() + room.width() - size.width())
    y = min(max(wanted.y(), room.y()), room.y() + room.height() - size.height())
    return QRect(QPoint(x, y), size)


def recalled(folder: Path) -> WindowMemory:
    """Return what an earlier run wrote; nothing where that is missing or damaged."""
    try:
        found: Any = json.loads((folder / NAME).read_bytes()[:MAX_BYTES])
        return WindowMemory(_whole(found["place"]), found["maximized"] is True,
                            _whole(found["sizes"]))
    except (OSError, ValueError, RecursionError, KeyError, TypeError):
        return WindowMemory()


def _whole(found: Any) -> tuple[int, ...]:
    if not isinstance(found, list) or len(found) > 9:
        raise ValueError("no list of a few numbers")
    if not all(isinstance(n, int) and abs(n) < 100_000 for n in found):
        raise ValueError("not whole numbers of pixels")
    return tuple(found)


def remember(folder: Path, window: QWidget, sizes: Sequence[int]) -> None:
    """Write where a window stands; that it cannot be written is no reason to keep it open."""
    place = window.normalGeometry()
    if not place.isValid():
        place = window.geometry()
    at = window.pos() if not window.isMaximized() else place.topLeft()
    kept = {"place": [at.x(), at.y(), place.width(), place.height()],
            "maximized": window.isMaximized(), "sizes": list(sizes)}
    with suppress(FileError):
        write_whole(folder / NAME, json.dumps(kept) + "\n")
