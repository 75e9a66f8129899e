"""What has to be in view so that neither the part nor its dimensions are cut off."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from sketcher.board.dimensions.dimension_lines import DimLines, are_few
from sketcher.desk.scene.camera import Camera
from sketcher.desk.scene.scene_state import SceneState, boxes_of, frame_of
from sketcher.geometry.bounds import bounds
from sketcher.geometry.curves import XY, Curve

Frame = tuple[float, float, float, float]
MARGIN, BARE = 0.03, 0.14
"""Share of the viewport that stays free on each side, with and without dimensions around."""
ROUNDS = 3
STEADY = 0.01
"""Share by which the scale may be off: a third of the margin."""
LETTER, LINE = 0.62, 1.54
"""Width of a letter and height of a line, by the size of words: widest letters, some air."""


def camera_for(sheet: SceneState, names: Sequence[str] = ()) -> Camera:
    """Return a camera that shows the whole part, or only some curves and points, as large as fits.

    An empty part is shown as 200 mm or 8 in of blank sheet.
    """
    curves: list[Curve] = []
    places: list[XY] = []
    for name in names:
        curves += sheet.curves_of(name)
        if name in sheet.board.part.points:
            places.append(sheet.board.part.points[name])
    frame = frame_of(boxes_of(curves), places) if names else sheet.around()
    if frame is None:
        span = 100.0 if sheet.board.part.unit == "mm" else 4.0
        return sheet.camera.fitting((-span, -span, span, span), 0.05)
    return sheet.camera.fitting(frame, BARE) if names else fitting(sheet, frame)


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
        boxes = [frame, *_boxes(sheet.board.bench.derived.dimensions(px), px * _size(sheet))]
        x0, y0, x1, y1 = zip(*boxes, strict=True)
        around = sheet.camera.fitting((min(x0), min(y0), max(x1), max(y1)), MARGIN)
        # Never larger than the bare part would be: a part without dimensions keeps its air.
        scale = min(around.scale, sheet.camera.fitting(frame, BARE).scale)
        steady = abs(scale / camera.scale - 1.0) < STEADY
        camera = replace(around, scale=camera.scale if steady else scale)
        if steady:
            break
    return camera


def holds_dimensions(sheet: SceneState) -> bool:
    """Tell whether all dimensions stand in the viewport."""
    x0, y0, x1, y1 = sheet.camera.window
    return all(x0 <= a and y0 <= b and c <= x1 and d <= y1
               for a, b, c, d in _boxes(sheet.dims(), sheet.px * _size(sheet)))


def _size(sheet: SceneState) -> float:
    return float(sheet.board.bench.settings["text_size"])


def _boxes(dims: tuple[DimLines, ...], size: float) -> Iterator[Frame]:
    """Give the boxes of words and lines; `size` is that of words in the part's unit."""
    for dim in dims:
        x, y = dim.anchor
        half = 0.5 * size * max(LETTER * len(dim.text), LINE)
        yield (x - half, y - half, x + half, y + half)
        for line in (*dim.extensions, *dim.curves):
            yield bounds(line)
