"""Where the arrow keys take the pointer: by steps of the grid, or from one thing to the next."""

from __future__ import annotations

from math import dist

from sketcher.board.board import Board
from sketcher.board.preview import Pointer
from sketcher.desk.scene.camera import Camera, grid_step
from sketcher.desk.scene.scene_state import SceneState
from sketcher.geometry.curves import XY
from sketcher.geometry.evaluate import point_at
from sketcher.part.whole import curve_value

TRIED = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88)
"""Places along a curve where the pointer may stand on it, the middle first."""
EXACT = 1.0
"""Pixels within which a pointer that went to a thing finds it."""
EDGE = 30.0
"""Pixels from the edge of the view at which it follows the pointer."""


def taken_by_arrow(sheet: SceneState, right: int, up: int, held: frozenset[str]) -> XY | None:
    """Return where an arrow takes the pointer; None where there is nothing to go to.

    Alone it goes by the grid's step, with Alt by a tenth of it. With Shift it goes to the next
    curve (right) or the one before (left), or to the next point (up) or the one before (down), in
    the order in which they were drawn.
    """
    camera = sheet.camera
    if "shift" in held:
        places = point_places(sheet.board) if up else curve_places(sheet.board, sheet.px)
        return next_of(places, sheet.cursor, right + up)
    step, _ = grid_step(camera.scale, sheet.board.part.unit)
    x, y = sheet.cursor or camera.center
    if sheet.cursor is None:
        x, y = round(x / step) * step, round(y / step) * step
    step *= 0.1 if "alt" in held else 1.0
    return (x + right * step, y + up * step)


def key_pointer(sheet: SceneState, held: frozenset[str]) -> Pointer:
    """Return the pointer where the keys have put it.

    One that went exactly to a thing means that alone, however near others lie.
    """
    reach = EXACT if sheet.went == "to it" else sheet.board.bench.settings["reach"]
    return Pointer(*(sheet.cursor or sheet.camera.center), reach * sheet.px, held)


def curve_places(board: Board, px: float) -> list[XY]:
    """Return a place on each curve of the half where a press means that curve and nothing else."""
    picker, found = board.bench.derived.picker(), []
    reach = EXACT * px
    for name, curve in board.part.curves.items():
        places = [point_at(curve_value(board.part, curve), t) for t in TRIED]
        met = ((at, picker.nearest(at, reach)) for at in places)
        found.append(next((at for at, pick in met if pick is not None and pick.source == name),
                          places[0]))
    return found


def point_places(board: Board) -> list[XY]:
    """Return where the points of the half stand, each place once."""
    return list(dict.fromkeys(board.part.points.values()))


def next_of(places: list[XY], now: XY | None, way: int) -> XY | None:
    """Return the place after, or with a way of -1 before, the one where the pointer stands."""
    if not places:
        return None
    if now is None or now not in places:
        if now is None:
            return places[0 if way > 0 else -1]
        return min(places, key=lambda at: dist(at, now))
    return places[(places.index(now) + way) % len(places)]


def following(camera: Camera, cursor: XY) -> Camera:
    """Return the camera that has the pointer in view, with some room around it."""
    px, py = camera.to_screen(cursor)
    over_x = max(0.0, px - camera.width + EDGE) - max(0.0, EDGE - px)
    over_y = max(0.0, py - camera.height + EDGE) - max(0.0, EDGE - py)
    return camera.panned(-over_x, -over_y) if over_x or over_y else camera
