"""A page with very much on it, as a picture that is painted in slices."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter

from sketcher.desk.sliced_picture import Sight, SlicedPicture, Stroke
from sketcher.drafting.page import Page
from sketcher.drafting.primitives import Item
from sketcher.exchange.pdf import paint_item, stand_on

FEW = 800
"""Items of a page that is painted at once, in some 30 ms."""


def paint_crowded(
    painter: QPainter, picture: SlicedPicture, page: Page, box: QRectF, size: QSize, ratio: float
) -> None:
    """Paint what there is of a page that fills a box on a widget of a size."""
    sight = Sight(page, box.topLeft(), box.width() / page.size[0], size, ratio)
    picture.paint(painter, sight, partial(_strokes, sight, page))


def _strokes(sight: Sight, page: Page) -> Iterator[Stroke]:
    return (partial(_item, sight, page, item) for item in page.all_items())


def _item(sight: Sight, page: Page, item: Item, painter: QPainter) -> None:
    painter.translate(sight.origin)
    painter.scale(sight.scale, sight.scale)
    stand_on(painter, page)
    paint_item(painter, item, page)
