"""Pictures of the demo parts: drawn beside the window, one after the other, and then kept."""

from __future__ import annotations

import contextlib
import sys
from functools import partial
from pathlib import Path
from zlib import crc32

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from sketcher import __version__
from sketcher.board.job import Job, Worker
from sketcher.errors import FileError, SketcherError
from sketcher.interrupt import Stopped
from sketcher.shipped import shipped

SIZE = (48.0, 32.0)
"""Width and height of a picture in mm."""
LATER = 150
"""Milliseconds after the page is shown: the page comes first."""


class DemoPictures(QObject):
    """Gets the pictures from the last run, or has them drawn.

    Parameters
    ----------
    worker : Worker
        Who draws them.
    folder : Path
        Where they are kept.
    parent : QObject

    Signals
    -------
    made(str, str)
        A demo part's file name, and its picture as SVG, black on white.
    """

    made = Signal(str, str)

    def __init__(self, worker: Worker, folder: Path, parent: QObject) -> None:
        super().__init__(parent)
        self.worker = worker
        self.folder = folder
        self._left: list[str] = []
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(LATER)
        self._timer.timeout.connect(self._next)

    def ask(self, names: tuple[str, ...]) -> None:
        """Ask for the pictures of these files, by and by; those asked for before are dropped."""
        self._left = list(names)
        self._timer.start()

    def stop(self) -> None:
        """Draw no more: something else is wanted now."""
        from sketcher.exchange.part_picture import picture_of

        self._timer.stop()
        self._left = []
        self.worker.forget(picture_of)

    @Slot()
    def _next(self) -> None:
        try:
            while self._left and self._from_last_run(self._left[0]):
                del self._left[0]
            if self._left:
                self._draw(self._left.pop(0))
        except Exception:  # noqa: BLE001 - a page without a picture is still a page
            sys.excepthook(*sys.exc_info())

    def _draw(self, name: str) -> None:
        from sketcher.exchange.part_picture import picture_of

        data = shipped("demo_parts", name).read_bytes()
        self.worker.start(Job("Pictures of the demo parts", picture_of, (data, *SIZE), 0.0),
                          partial(self._drawn, name), self._failed)

    def _drawn(self, name: str, picture: str) -> None:
        from sketcher.board.settings import write_whole

        with contextlib.suppress(FileError):  # then it is drawn again the next time
            write_whole(self._place(name), picture)
        self.made.emit(name, picture)
        self._next()

    def _failed(self, error: BaseException) -> None:
        if not isinstance(error, Stopped | SketcherError):
            sys.excepthook(type(error), error, error.__traceback__)
        self._next()

    def _from_last_run(self, name: str) -> bool:
        try:
            picture = self._place(name).read_text("utf-8")
        except (OSError, UnicodeDecodeError):
            return False
        if not picture.rstrip().endswith("</svg>"):
            return False
        self.made.emit(name, picture)
        return True

    def _place(self, name: str) -> Path:
        """Where a picture is kept: under another name for another file or another program."""
        key = crc32(shipped("demo_parts", name).read_bytes() + __version__.encode())
        return self.folder / f"{name.split('.')[0]}-{key:08x}.svg"
