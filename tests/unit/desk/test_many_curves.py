"""Patterns of very many holes are painted with thin pens, and ringed instead of haloed."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QLineF
from PySide6.QtGui import QColor, QFont, QImage, QPainter

from sketcher.board.board import Board
from sketcher.desk.looks import LOOKS
from sketcher.desk.scene.curve_layer import CurveLayer
from sketcher.desk.scene.pens import pen_on, thin
from sketcher.desk.scene.scene_state import HALO, MANY, SceneState, boxes_of
from sketcher.geometry.bounds import bounds
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.part.edits.draft import Draft
from sketcher.part.edits.set_pattern import set_pattern
from sketcher.part.value import GridPattern, Part


def ink_of(ratio: float, width: float, few: bool) -> float:
    """Ink across a level line on a screen of some scale, in logical pixels."""
    image = QImage(round(20 * ratio), round(20 * ratio), QImage.Format.Format_Grayscale8)
    image.setDevicePixelRatio(ratio)
    image.fill(0)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    pen = pen_on(painter, "white", width)
    painter.setPen(pen if few else thin(pen))
    painter.scale(2.0, 2.0)  # the camera
    painter.drawLine(QLineF(0.0, 5.0, 10.0, 5.0))
    painter.end()
    middle = image.width() // 2
    return sum(image.pixelColor(middle, y).red() for y in range(image.height())) / 255.0 / ratio


@pytest.mark.parametrize("ratio", [1.0, 1.5, 2.0])
@pytest.mark.parametrize("width", [0.9, 1.3, 2.2])
def test_a_pen_is_as_wide_on_every_screen(qapp, ratio: float, width: float) -> None:
    assert ink_of(ratio, width, few=True) == pytest.approx(width, abs=0.05)


@pytest.mark.parametrize("ratio", [1.0, 2.0])
def test_a_thin_pen_is_one_pixel_of_the_screen(qapp, ratio: float) -> None:
    assert ink_of(ratio, 1.3, few=False) * ratio == pytest.approx(1.0, abs=0.05)


def sieve(across: int, up: int) -> tuple[SceneState, CurveLayer]:
    """A sheet with one hole and its pattern over all of a picture of 1,000 by 800 pixels."""
    draft = Draft(Part())
    hole = draft.circle((0.0, 0.0), 3.0)
    grid = GridPattern((hole,), ("10", "10"), (across, up))
    board = Board(set_pattern(draft.done(), grid).part)
    sheet = SceneState(board, LOOKS["dye"], QFont())
    sheet.camera = sheet.camera.resized(1000, 800).fitting((0, 0, 10 * across, 10 * up), 0.05)
    sheet.refresh()
    return sheet, CurveLayer(sheet, 0.0, ("outline",))


def painted(layer: CurveLayer) -> QImage:
    image = QImage(1000, 800, QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(QColor("black"))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    layer.draw(painter)
    painter.end()
    return image


def test_every_hole_of_a_large_pattern_is_seen(qapp) -> None:
    sheet, layer = sieve(40, 30)
    assert len(sheet.pieces) > MANY
    image = painted(layer)
    for n, m in ((7, 0), (39, 0), (0, 29), (20, 11), (39, 29)):  # images: the first has dashes
        x, y = sheet.camera.to_screen((10.0 * n + 3.0, 10.0 * m))
        rim = max(image.pixelColor(round(x) + d, round(y)).lightness() for d in (-1, 0, 1))
        x, y = sheet.camera.to_screen((10.0 * n, 10.0 * m))
        assert rim > 60
        assert image.pixelColor(round(x), round(y)).lightness() == 0


def test_a_chosen_pattern_is_ringed(qapp) -> None:
    sheet, layer = sieve(40, 30)
    plain = painted(layer)
    sheet.board.bench.select(tuple(sheet.board.part.curves))
    chosen = painted(layer)
    off = 3.0 + HALO / sheet.camera.scale
    for n in (5, 31):
        x, y = sheet.camera.to_screen((10.0 * n, 10.0 * 4 + off))
        near = [(round(x), round(y) + d) for d in (-1, 0, 1)]
        assert max(chosen.pixelColor(*at).lightness() for at in near) > \
            max(plain.pixelColor(*at).lightness() for at in near)


def test_circles_and_other_curves_have_their_boxes() -> None:
    curves = [Circle((1.0, 2.0), 3.0), Line((4.0, 1.0), (0.0, 2.0)),
              Arc((0.0, 0.0), (2.0, 0.0), (0.0, 2.0), True)]
    assert boxes_of(curves).tolist() == [list(bounds(curve)) for curve in curves]
    assert boxes_of([]).shape == (0, 4)
