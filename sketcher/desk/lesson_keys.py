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
        for watched in (self.view, self.view.viewport()):
            watched.removeEventFilter(self)
            if watches:
                watched.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take what would be done on the sheet."""
        try:
            if isinstance(event, QKeyEvent):
                return watched is self.view and self._keyed(event)
            if isinstance(event, QMouseEvent) and watched is self.view.viewport():
                middle = Qt.MouseButton.MiddleButton  # which pans
                return event.button() != middle and not event.buttons() & middle
        except Exception:  # noqa: BLE001 - an exception that leaves an override can end the process
            sys.excepthook(*sys.exc_info())
        return False

    def _keyed(self, event: QKeyEvent) -> bool:
        kind, name, held = event.type(), keys.name_of(event), keys.held(event.modifiers())
        if kind == QEvent.Type.ShortcutOverride or held & {"ctrl", "alt"} \
                or event.key() in LOOKING:
            return False
        fresh = not event.isAutoRepeat() or name in keys.ARROWS
        if kind == QEvent.Type.KeyPress and fresh and name in self._uses:
            self._uses[name]()
        return True
