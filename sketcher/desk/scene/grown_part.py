"""A part that an edit has taken out of view is shown whole, and one that has outgrown it."""

from __future__ import annotations

import sys

from PySide6.QtCore import QObject, Slot

from sketcher.board.places.moving_pieces import Pieces
from sketcher.board.steps.notices import Change
from sketcher.desk.scene.close_up import grown
from sketcher.desk.scene.scene_view import SceneView
from sketcher.geometry.bounds import Box, bounds_of, box_within
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
            camera, now = self._view.sheet.camera, self._view.sheet.around()
            if now is None:
                return
            out, over = not camera.meets(now), not box_within(now, with_slack(camera.window))
            repeated = (after.mirrors, after.patterns) != (before.mirrors, before.patterns)
            if not (out or (over and repeated)):
                return  # most edits: then nobody has to know where the part was before
            was = around(before)
            if was is not None and ((out and camera.meets(was)) or (
                    over and repeated and box_within(was, with_slack(camera.window)))):
                self._view.fit()
        except Exception:  # noqa: BLE001 - a slot only tells
            sys.excepthook(*sys.exc_info())


def with_slack(window: Box) -> Box:
    """Return what still counts as in view."""
    return grown(window, 1.0 + 2.0 * SLACK)


def around(part: Part) -> Box | None:
    """Return the box around the outline of a whole part."""
    outline = [piece.curve for piece in Pieces.of(part).all if piece.role == "outline"]
    return bounds_of(outline) if outline else None
