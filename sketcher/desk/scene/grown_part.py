"""A part that a mirror or a pattern has made larger than the view is shown whole."""

from __future__ import annotations

import sys

from PySide6.QtCore import QObject, Slot

from sketcher.board.places.moving_pieces import Pieces
from sketcher.board.steps.notices import Change
from sketcher.desk.scene.scene_view import SceneView
from sketcher.geometry.bounds import Box, bounds_of
from sketcher.part.value import Part

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
        """Fit the part where images that are new lie out of view."""
        before, after = change.before, change.after
        if change.reason != "edit" or (
                after.mirrors == before.mirrors and after.patterns == before.patterns):
            return
        try:
            was, now = around(before), self._view.sheet.around()
            if was is not None and now is not None and self._holds(was) and not self._holds(now):
                self._view.fit()
        except Exception:  # noqa: BLE001 - a slot only tells
            sys.excepthook(*sys.exc_info())

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
