"""From a row to its place on the sheet, and with Escape back to the view before."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sketcher.desk.scene.camera import Camera
from sketcher.geometry.bounds import Box

if TYPE_CHECKING:
    from sketcher.desk.scene.scene_view import SceneView


class WayBack:
    """Remembers one view, for as long as nobody has moved on from where a row led.

    Parameters
    ----------
    view : SceneView
        Whose camera it moves.
    """

    def __init__(self, view: SceneView) -> None:
        self._view = view
        self._before: Camera | None = None
        self._led: Camera | None = None

    def lead_to(self, frame: Box) -> None:
        """Show a box of the part; from row to row the first view stays the one to go back to."""
        here = self._view.sheet.camera
        if self._before is None or here is not self._led:
            self._before = here
        self._led = here.fitting(frame, 0.0)
        self._show(self._led)

    def go(self) -> bool:
        """Show what was shown before; return False where the view was left by hand since."""
        before, led = self._before, self._led
        self._before = self._led = None
        if before is None or self._view.sheet.camera is not led:
            return False
        self._view.loupe.loupe = None
        self._view.light(())
        self._show(before)
        return True

    def _show(self, camera: Camera) -> None:
        self._view.sheet.camera = camera
        self._view.stand_still()
        self._view.viewport().update()
