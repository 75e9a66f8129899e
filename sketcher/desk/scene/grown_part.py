"""A part that an edit has taken out of view is shown whole, and one that has outgrown it."""

from __future__ import annotations

import sys

from PySide6.QtCore import QObject, Slot

from sketcher.board.places.moving_pieces import Pieces
from sketcher.board.steps.notices import Change
from sketcher.desk.scene.scene_view import SceneView
from sketcher.geometry.bounds import Box, bounds_of
from sketcher.part.value import Part

MAY_LEAVE = ("edit", "undo", "redo")
SLACK = 0.02
"""Share of the view by which a part may stand over its edge and still count as in it."""


class GrownPart(QObject):
    """Follows the part; it has to hear of a change after the sheet.

    Parameters
    ----------
    view : SceneView
        Whose camera it moves, and only where the part was in view before.
    """

    def __init__(self, view: SceneView) -> None:
        super().__init__(view)
        self._view = view

    @Slot(object)
    def hear(self, change: Change) -> None:
        """Fit the part where images that are new, or all of it, lie out of view."""
        if change.reason not in MAY_LEAVE:
            return
        before, after = change.before, change.after
        try:
            was, now = around(before), self._view.sheet.around()
            if was is None or now is None:
                return
            repeated = (after.mirrors, after.patterns) != (before.mirrors, before.patterns)
            outgrown = repeated and self._holds(was) and not self._holds(now)
            if outgrown or (self._meets(was) and not self._meets(now)):
                self._view.fit()
        except Exception:  # noqa: BLE001 - a slot only tells
            sys.excepthook(*sys.exc_info())

    def _meets(self, box: Box) -> bool:
        """Tell whether any of a box lies in the view."""
        x0, y0, x1, y1 = self._view.sheet.camera.window
        return box[0] <= x1 and x0 <= box[2] and box[1] <= y1 and y0 <= box[3]

    def _holds(self, box: Box) -> bool:
        """Tell whether a box lies in the view."""
        x0, y0, x1, y1 = self._view.sheet.camera.window
        dx, dy = SLACK * (x1 - x0), SLACK * (y1 - y0)
        return (x0 - dx <= box[0] and y0 - dy <= box[1]
                and box[2] <= x1 + dx and box[3] <= y1 + dy)


def around(part: Part) -> Box | None:
    """Return the box around the outline of a whole part."""
    outline = [piece.curve for piece in Pieces.of(part).all if piece.role == "outline"]
    return bounds_of(outline) if outline else None
