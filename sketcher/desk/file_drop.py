"""A file that is dropped on the window is opened; a foreign drawing is brought in."""

from __future__ import annotations

import sys
from pathlib import Path

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QDragMoveEvent, QDropEvent
from PySide6.QtWidgets import QMainWindow

from sketcher.desk.scene.scene_view import SceneView
from sketcher.desk.window_files import Filing
from sketcher.part.store import SUFFIX

DRAWING = ".dxf"


class FileDrop(QObject):
    """Takes files for a window; what is no part of this program is told, and nothing changes."""

    def __init__(self, filing: Filing, view: SceneView, window: QMainWindow) -> None:
        super().__init__(window)
        self.filing = filing
        view.viewport().setAcceptDrops(False)  # the sheet's own would swallow them
        window.setAcceptDrops(True)
        window.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Welcome files, and open what is let go."""
        kind = event.type()
        if kind not in (QEvent.Type.DragEnter, QEvent.Type.DragMove, QEvent.Type.Drop) \
                or not isinstance(event, QDragMoveEvent | QDropEvent):
            return False
        if not event.mimeData().hasUrls():
            return False
        event.acceptProposedAction()
        if kind == QEvent.Type.Drop:
            try:
                self.take([Path(url.toLocalFile()) for url in event.mimeData().urls()
                           if url.isLocalFile()])
            except Exception:  # noqa: BLE001 - an event filter only tells
                sys.excepthook(*sys.exc_info())
        return True

    def take(self, paths: list[Path]) -> None:
        """Open the part or bring in the drawing among the files, or say why there is none."""
        drawings = [path for path in paths if path.suffix.lower() == DRAWING]
        if len(paths) == 1 and drawings:
            self.filing.host.bring_in(drawings[0])
            return
        parts = [path for path in paths if path.name.endswith(SUFFIX)]
        if len(parts) == 1:
            self.filing.open_path(parts[0])
            return
        if len(parts) > 1:
            why = f"{len(parts)} parts were dropped; one is open at a time. Drop one of them."
        elif drawings:
            why = (f"{len(paths)} files were dropped; one drawing is brought in at a time. Drop "
                   "one of them.")
        elif not paths:
            why = "What was dropped is no file on this machine."
        else:
            why = (f"{paths[0].name} is no part of this program, whose name ends in {SUFFIX}, and "
                   f"no drawing that ends in {DRAWING}.")
        self.filing.host.tell("Nothing was opened", why)
