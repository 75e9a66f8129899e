"""What has to be in view so that neither the part nor its dimensions are cut off."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from sketcher.board.dimensions.dimension_lines import DimLines, are_few
from sketcher.board.dimensions.sign_room import words_box
from sketcher.desk.scene.camera import Camera
from sketcher.desk.scene.scene_state import SceneState, boxes_of, frame_of
from sketcher.geometry.bounds import bounds, box_within
from sketcher.geometry.curves import XY, Curve
from sketcher.part.value import Part

Frame = tuple[float, float, float, float]
MARGIN, BARE = 0.03, 0.14
"""Share of the viewport that stays free on each side, with and without dimensions around."""
ROUNDS = 6
SHRINK, LEAST = 0.8, 0.2
"""Share to which a round makes the part smaller at most, for the smaller it is the more dimensions
go further out; and share of the bare part's scale below which nothing could be read."""
AGAIN = 4
"""Times that a part is shown smaller at rest."""
STEADY = 0.01
"""Share by which the scale may be off: a third of the margin."""
TRIES, EDGE = 7, 3.0
"""Scales that are tried where texts find no room, and pixels that stay free beside them."""


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
    camera = bare = sheet.camera.fitting(frame, BARE)
    part = sheet.board.part
    if not sheet.shows("dimensions") or not part.bindings \
            or not are_few(part):  # very many are not read at that scale
        return camera
    for _ in range(ROUNDS):
        px = sheet.px_in(camera)
        dims = sheet.board.bench.derived.dimensions(px)
        boxes = [frame, *_boxes(dims, px, _size(sheet))]
        x0, y0, x1, y1 = zip(*boxes, strict=True)
        least = max(SHRINK * camera.scale, LEAST * bare.scale)
        found = _around(bare, frame, (min(x0), min(y0), max(x1), max(y1)), px, least)
        steady = abs(found.scale / camera.scale - 1.0) < STEADY
        camera = replace(found, scale=camera.scale if steady else found.scale)
        if steady:
            break
    return _with_texts_in_view(sheet, camera, bare)


def _with_texts_in_view(sheet: SceneState, camera: Camera, bare: Camera) -> Camera:
    """Return a camera where texts find room in the viewport, as near to one camera as goes.

    From here on dimensions are laid out within what the camera shows. Where that is not enough the
    part is shown smaller, so that there is more blank sheet.
    """
    best, fewest = camera, len(sheet.dims()) + 1
    for tried in (camera, *(replace(bare, scale=bare.scale * SHRINK**n) for n in range(TRIES))):
        count = _laid_out_in(sheet, tried)
        if count < fewest:
            best, fewest = tried, count
        if not count:
            break
    _laid_out_in(sheet, best)
    return best


def _laid_out_in(sheet: SceneState, camera: Camera) -> int:
    """Lay dimensions out to stand in a camera's viewport; return how many texts do not."""
    px, derived = sheet.px_in(camera), sheet.board.bench.derived
    x0, y0, x1, y1 = camera.window
    edge = EDGE * px
    derived.keep_in_view(px, (x0 + edge, y0 + edge, x1 - edge, y1 - edge))
    return _outside(sheet, camera, derived.dimensions(px))


def _outside(sheet: SceneState, camera: Camera, dims: Iterable[DimLines]) -> int:
    return sum(not box_within(box, camera.window)
               for box in text_boxes(dims, sheet.px_in(camera), _size(sheet)))


def text_boxes(dims: Iterable[DimLines], px: float, size: float) -> Iterator[Frame]:
    """Give level boxes around the words of dimensions in the part's unit.

    Parameters
    ----------
    dims : iterable of DimLines
    px, size : float
        One pixel in the part's unit; size of words in pixels.
    """
    for dim in dims:
        x, y, c, s, wide, high = words_box(dim, px, size)
        across, tall = wide * abs(c) + high * abs(s), wide * abs(s) + high * abs(c)
        yield ((x - across) * px, (y - tall) * px, (x + across) * px, (y + tall) * px)


def _around(bare: Camera, frame: Frame, box: Frame, px: float, least: float) -> Camera:
    """Return a camera for a frame with what stands around it as many pixels wide at any scale.

    Parameters
    ----------
    bare : Camera
        For the frame alone; with dimensions nothing is larger, so that without it keeps its air.
    frame, box : tuple of float
        Of the part, and of the part with its dimensions.
    px : float
        One pixel in the part's unit where the dimensions stand in the box.
    least : float
        Scale below which it does not go.
    """
    left, low = (frame[0] - box[0]) / px, (frame[1] - box[1]) / px
    right, high = (box[2] - frame[2]) / px, (box[3] - frame[3]) / px
    scales = [bare.scale]
    for size, part, around in ((bare.width, frame[2] - frame[0], left + right),
                               (bare.height, frame[3] - frame[1], low + high)):
        if part > 0.0:
            scales.append(((1.0 - 2.0 * MARGIN) * size - around) / part)
    scale = max(min(scales), least)
    x, y = bare.center
    return replace(bare, scale=scale, center=(x + 0.5 * (right - left) / scale,
                                              y + 0.5 * (high - low) / scale))


def cut_off(sheet: SceneState) -> int:
    """Return how many texts of dimensions do not stand in the viewport."""
    return _outside(sheet, sheet.camera, sheet.dims())


class ShownWhole:
    """Whether the sheet shows the whole part as it was fitted, and nobody looks elsewhere since.

    Where dimensions stand at rest hangs on the scale, and the scale on where they stand. So where
    texts find no room at rest either the part is shown smaller, a few times at most.

    Parameters
    ----------
    sheet : SceneState
    """

    def __init__(self, sheet: SceneState) -> None:
        self._sheet = sheet
        self._seen: tuple[Camera, Part] | None = None
        self._again = 0
        self._before: tuple[Camera, int] | None = None

    def fit(self, names: Sequence[str] = ()) -> None:
        """Show the whole part, or only some curves and points."""
        self._show(names)
        self._again, self._before = AGAIN, None

    def holds(self) -> bool:
        """Tell whether the part and the view of it are those that were fitted."""
        return self._seen is not None and self._seen[0] is self._sheet.camera \
            and self._seen[1] is self._sheet.board.part

    def resize(self, wide: float, high: float) -> bool:
        """Take over the viewport's size; return whether the part is to be fitted into it anew.

        Never while one draws: the pointer would stand on another place.
        """
        held = self.holds()
        self._sheet.camera = self._sheet.camera.resized(wide, high)
        if held:
            self._seen = (self._sheet.camera, self._sheet.board.part)
        return held and self._sheet.board.tool.lets_sheet_move

    def rest(self) -> bool:
        """Show the part smaller where texts as they stand at rest are cut off; return whether."""
        sheet, camera = self._sheet, self._sheet.camera
        count = 0 if not self._again or not self.holds() else cut_off(sheet)
        if not count:
            return False
        self._again -= 1
        if self._before is not None and count >= self._before[1]:  # that did not help
            sheet.camera, self._again = self._before[0], 0
        else:
            self._before = (camera, count)
            sheet.camera = replace(camera, scale=camera.scale * SHRINK)
        _laid_out_in(sheet, sheet.camera)
        self._seen = (sheet.camera, sheet.board.part)
        return True

    def _show(self, names: Sequence[str]) -> None:
        self._sheet.camera = camera_for(self._sheet, names)
        self._seen = None if names else (self._sheet.camera, self._sheet.board.part)


def _size(sheet: SceneState) -> float:
    return float(sheet.board.bench.settings["text_size"])


def _boxes(dims: tuple[DimLines, ...], px: float, size: float) -> Iterator[Frame]:
    """Give the boxes of words and lines."""
    yield from text_boxes(dims, px, size)
    for dim in dims:
        for line in (*dim.extensions, *dim.curves):
            yield bounds(line)
