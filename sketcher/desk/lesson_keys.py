"""Keys and presses on the sheet while a construction plays: they play, pan and zoom, no more."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent

from sketcher.desk import keys
from sketcher.desk.scene.scene_view import SceneView

LOOKING = (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown, Qt.Key.Key_Tab, Qt.Key.Key_Backtab)


class LessonKeys(QObject):
    """Takes what comes to the sheet, as long as it watches.

    Space and arrows mean what they mean in any player; with Ctrl the arrows pan as ever.

    Parameters
    ----------
    view : SceneView
    uses : mapping of str to callable
        What a key does, by its name; every other key without Ctrl and Alt does nothing.
    """

    def __init__(self, view: SceneView, uses: Mapping[str, Callable[[], object]]) -> None:
        super().__init__(view)
        self.view = view
        self._uses = uses

    def watch(self, watches: bool) -> None:
        """Take keys and presses, or leave them to the sheet."""
        port = self.view.viewport()
        port.removeEventFilter(self)
        self.view.takes_key = self.take if watches else None
        if watches:
            port.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep presses and the pointer from the sheet, but for the middle button, which pans."""
        try:
            middle = Qt.MouseButton.MiddleButton
            return isinstance(event, QMouseEvent) and event.button() != middle \
                and not event.buttons() & middle
        except Exception:  # noqa: BLE001 - an exception that leaves an override can end the process
            sys.excepthook(*sys.exc_info())
        return False

    def take(self, event: QKeyEvent) -> bool:
        """Do what a key means, whichever pane it comes from; return whether it was taken."""
        name, held = keys.name_of(event), keys.held(event.modifiers())
        if held & {"ctrl", "alt"} or event.key() in LOOKING:
            return False
        if name in self._uses and (not event.isAutoRepeat() or name in keys.ARROWS):
            try:
                self._uses[name]()
            except Exception:  # noqa: BLE001 - it is called from an override
                sys.excepthook(*sys.exc_info())
        return True
