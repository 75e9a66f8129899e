"""What has to be in view so that neither the part nor its dimensions are cut off."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sketcher.board.dimensions.dimension_lines import DimLines, are_few
from sketcher.desk.scene.camera import Camera
from sketcher.desk.scene.scene_state import SceneState
from sketcher.geometry.bounds import bounds

Frame = tuple[float, float, float, float]
MARGIN, BARE = 0.03, 0.14
"""Share of the viewport that stays free on each side, with and without dimensions around."""
ROUNDS = 3
STEADY = 0.01
"""Share by which the scale may be off: a third of the margin."""
LETTER, LINE = 8.0, 20.0


def fitting(sheet: SceneState, frame: Frame) -> Camera:
    """Return a camera that shows a frame of the part and the dimensions around it.

    Dimensions keep their size in pixels, so their place depends on the scale: a few rounds settle.
    The last layout is the one that is painted, where the scale was settled before.
    """
    camera = sheet.camera.fitting(frame, BARE)
    part = sheet.board.part
    if not sheet.shows("dimensions") or not part.bindings \
            or not are_few(part):  # very many are not read at that scale
        return camera
    for _ in range(ROUNDS):
        px = sheet.px_in(camera)
        boxes = [frame, *_boxes(sheet.board.bench.derived.dimensions(px), px)]
        x0, y0, x1, y1 = zip(*boxes, strict=True)
        around = sheet.camera.fitting((min(x0), min(y0), max(x1), max(y1)), MARGIN)
        # Never larger than the bare part would be: a part without dimensions keeps its air.
        scale = min(around.scale, sheet.camera.fitting(frame, BARE).scale)
        steady = abs(scale / camera.scale - 1.0) < STEADY
        camera = replace(around, scale=camera.scale if steady else scale)
        if steady:
            break
    return camera


def _boxes(dims: tuple[DimLines, ...], px: float) -> Iterator[Frame]:
    for dim in dims:
        x, y = dim.anchor
        half = 0.5 * px * max(LETTER * len(dim.text), LINE)
        yield (x - half, y - half, x + half, y + half)
        for line in (*dim.extensions, *dim.curves):
            yield bounds(line)
