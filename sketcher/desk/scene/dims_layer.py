"""Dimensions drawn as on a drawing: extension and dimension lines, arrowheads, text."""

from __future__ import annotations

from collections.abc import Callable
from copy import copy
from functools import lru_cache, partial
from math import degrees

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPolygonF

from sketcher.board.dimensions.dimension_lines import MARKS, Arrow, DimLines
from sketcher.desk.scene.curve_layer import stroke_curve
from sketcher.desk.scene.layer import Layer
from sketcher.desk.scene.paths import LARGE
from sketcher.desk.scene.pens import pen_on
from sketcher.desk.scene.scene_state import SceneState
from sketcher.desk.sliced_picture import Sight, SlicedPicture
from sketcher.geometry.curves import Line

ARROW_SHAPE = 6.0
"""Length by half the width: three to one, as ASME Y14.2 has it (arrowhead paragraph)."""

THIN = 0.9
"""Pixels of a dimension's lines: less than half of the outline's, as on paper (lines.toml)."""

FEW = 150
"""Dimensions that are painted at once, in some 10 ms."""


def text_font(sheet: SceneState) -> QFont:
    """Return the font of the words on the sheet."""
    font = QFont(sheet.font)
    font.setPixelSize(int(sheet.board.bench.settings["text_size"]))
    return font


def arrow_length(sheet: SceneState) -> float:
    """Return the length of an arrowhead in pixels: as long as capitals are high (ASME Y14.2)."""
    return capitals(text_font(sheet).key())


@lru_cache(maxsize=64)
def capitals(font: str) -> float:
    """Return how high capitals are, in pixels; a font by its key."""
    made = QFont()
    made.fromString(font)
    return QFontMetricsF(made).capHeight()


def colour_of(sheet: SceneState, dim: DimLines) -> str:
    """Return the colour of a dimension by what it does."""
    look = sheet.look
    if dim.state != "ok":
        return look.clash
    return look.dims if dim.drives else look.reference


def line_of(sheet: SceneState, dim: DimLines, colour: str) -> str:
    """Return the colour of its lines: quieter than its number, that the outline stands out."""
    return sheet.look.dim_lines if colour in (sheet.look.dims, sheet.look.reference) else colour


def draw_arrow(painter: QPainter, sheet: SceneState, arrow: Arrow, colour: str) -> None:
    """Fill an arrowhead."""
    x, y = sheet.camera.to_screen(arrow.tip)
    dx, dy = arrow.direction[0], -arrow.direction[1]
    length = arrow_length(sheet)
    half = length / ARROW_SHAPE
    bx, by = x - dx * length, y - dy * length
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(colour))
    painter.drawPolygon(QPolygonF([
        QPointF(x, y),
        QPointF(bx - dy * half, by + dx * half),
        QPointF(bx + dy * half, by - dx * half),
    ]))
    painter.setBrush(Qt.BrushStyle.NoBrush)


def draw_text(
    painter: QPainter, sheet: SceneState, dim: DimLines, colour: str, chosen: bool
) -> None:
    """Write the text around its anchor on a ground that keeps lines off it."""
    font = text_font(sheet)
    words = dim.text + MARKS.get(dim.state, "")
    wide, high = room_of(font.key(), words)
    x, y = sheet.camera.to_screen(dim.anchor)
    place = QRectF(-wide / 2, -high / 2, wide, high)
    was = painter.worldTransform()
    painter.translate(x, y)
    painter.rotate(-degrees(dim.turn))
    ground = QColor(sheet.look.chosen if chosen else sheet.look.sheet)
    ground.setAlpha(255 if chosen else 225)
    painter.fillRect(place, ground)
    painter.setFont(font)
    painter.setPen(QColor(sheet.look.chosen_text if chosen else colour))
    painter.drawText(QPointF(-wide / 2 + 2, high / 2 - 1), words)
    painter.setWorldTransform(was)


@lru_cache(maxsize=4096)
def room_of(font: str, words: str) -> tuple[float, float]:
    """Return how wide and how high the ground under words is, in pixels; a font by its key.

    It is as high as capitals and a little more, so that it leaves the dimension line below alone.
    """
    made = QFont()
    made.fromString(font)
    metrics = QFontMetricsF(made)
    return metrics.horizontalAdvance(words) + 4, metrics.capHeight() + 2


def draw_dim(
    painter: QPainter, sheet: SceneState, dim: DimLines, colour: str, chosen: bool
) -> None:
    """Draw one dimension, its words on top of its lines."""
    draw_lines(painter, sheet, dim, colour, chosen)
    draw_text(painter, sheet, dim, colour, chosen)


def draw_lines(
    painter: QPainter, sheet: SceneState, dim: DimLines, colour: str, chosen: bool
) -> None:
    """Draw all but the words; a clashing one is dashed too, so that it tells without colour."""
    line = line_of(sheet, dim, colour)
    dashes = [4.0, 3.0] if dim.state == "clashing" else []
    painter.setPen(pen_on(painter, line, 1.6 if chosen else THIN, dashes))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    large, place = LARGE / sheet.camera.scale, sheet.camera.to_screen
    straight = []
    for curve in (*dim.extensions, *dim.curves):
        if isinstance(curve, Line) and curve.length <= large:
            straight.append(QLineF(*place(curve.start), *place(curve.end)))
        else:
            stroke_curve(painter, sheet, curve)
    painter.drawLines(straight)
    for arrow in dim.arrows:
        draw_arrow(painter, sheet, arrow, line)


class DimsLayer(Layer):
    """All dimensions of the part, or while they are hidden only those that are pointed at.

    Parameters
    ----------
    told : callable
        Called when the picture of very many is there, which is painted in slices.
    """

    def __init__(self, sheet: SceneState, height: float, told: Callable[[], None]) -> None:
        super().__init__(sheet, height)
        self.picture = SlicedPicture()
        self.picture.made.connect(told)

    def draw(self, painter: QPainter) -> None:
        """Paint the dimensions; chosen ones last, on top."""
        sheet = self.sheet
        board = sheet.board
        lit = {*sheet.lit, *board.bench.selection.ids, *board.bench.hover, *board.preview.lit}
        dims = sheet.dims()
        if sheet.shows("dimensions"):
            if len(dims) > FEW:
                self._draw_crowd(painter, dims)
            else:
                self.picture.drop()
                self._draw(painter, [dim for dim in dims if dim.binding not in lit], False)
        self._draw(painter, [dim for dim in dims if dim.binding in lit], True)

    def _draw(self, painter: QPainter, dims: list[DimLines], chosen: bool) -> None:
        """Draw some dimensions: no line of one strikes the words of another through."""
        for draw in (draw_lines, draw_text):
            for dim in dims:
                draw(painter, self.sheet, dim, colour_of(self.sheet, dim), chosen)

    def _draw_crowd(self, painter: QPainter, dims: tuple[DimLines, ...]) -> None:
        sheet = copy(self.sheet)  # the camera moves on while the picture is being painted
        camera = sheet.camera
        sight = Sight((dims, sheet.look, text_font(sheet).key()),
                      QPointF(*camera.to_screen((0.0, 0.0))), camera.scale,
                      QSize(round(camera.width), round(camera.height)),
                      painter.device().devicePixelRatioF())
        self.picture.paint(painter, sight, lambda: (
            partial(_draw_plain, sheet=sheet, dim=dim) for dim in dims))


def _draw_plain(painter: QPainter, sheet: SceneState, dim: DimLines) -> None:
    draw_dim(painter, sheet, dim, colour_of(sheet, dim), chosen=False)
