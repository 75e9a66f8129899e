"""A page painted a slice at a time is the page painted at once."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QColor, QImage, QPainter

from sketcher.desk import sliced_picture
from sketcher.desk.dialogs import page_view
from sketcher.desk.dialogs.page_picture import paint_crowded
from sketcher.desk.dialogs.page_view import PageView
from sketcher.desk.sliced_picture import SlicedPicture
from sketcher.drafting.page import Page
from sketcher.drafting.primitives import Stroke
from sketcher.drafting.sheet import pages
from sketcher.exchange.pdf import paint
from tests.plates import bound

SIZE = QSize(640, 860)
ROUNDED = 64
"""Grey levels of 255 by which two ways to the same picture may differ.

What lies over each other is rounded once more on the way through a picture, and lettering is
smoothed by what the machine's fonts ask for: 46 have been seen. A missing line differs by 100 and
more (see `test_a_missing_item_is_seen`).
"""


def blank() -> QImage:
    image = QImage(SIZE, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    return image


def levels(image: QImage) -> NDArray[np.int_]:
    grey = image.convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(grey.constBits(), np.uint8).reshape(grey.height(), grey.bytesPerLine())
    return rows[:, : grey.width()].astype(int)


def shown(picture: SlicedPicture, page: Page, box: QRectF) -> QImage:
    image = blank()
    painter = QPainter(image)
    paint_crowded(painter, picture, page, box, SIZE, 1.0)
    painter.end()
    return image


def painted(page: Page, box: QRectF) -> QImage:
    image = blank()
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(box.topLeft())
    painter.scale(box.width() / page.size[0], box.width() / page.size[0])
    paint(painter, page)
    painter.end()
    return image


def apart(one: QImage, other: QImage) -> int:
    return int(np.abs(levels(one) - levels(other)).max())


def test_a_missing_item_is_seen(qapp) -> None:
    page = pages(bound())[0]
    box = QRectF(10.0, 5.0, 600.0, 600.0 * page.size[1] / page.size[0])
    outline = [k for k, item in enumerate(page.items)
               if isinstance(item, Stroke) and item.source.startswith("curve:")]
    assert outline
    for k in outline:
        fewer = replace(page, items=page.items[:k] + page.items[k + 1:])
        assert apart(painted(fewer, box), painted(page, box)) > ROUNDED


def test_slices_make_the_same_picture(qtbot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sliced_picture, "SLICE", 0.0)
    page = pages(bound())[0]
    box = QRectF(10.0, 5.0, 600.0, 600.0 * page.size[1] / page.size[0])
    picture = SlicedPicture()
    assert shown(picture, page, box) == blank()
    assert not picture.done
    slices = []
    paint_slice = picture._paint_slice
    monkeypatch.setattr(picture, "_paint_slice", lambda: slices.append(1) or paint_slice())
    with qtbot.waitSignal(picture.made):
        pass
    assert len(slices) == len(page.all_items()) + 1
    at_once = painted(page, box)
    made = shown(picture, page, box)
    assert picture.done
    assert apart(made, at_once) <= ROUNDED
    # From further to the right the picture moves along until its own is there.
    along = shown(picture, page, box.translated(20.0, 0.0))
    assert along.copy(40, 0, 580, 860) == made.copy(20, 0, 580, 860)
    assert not picture.done
    picture.drop()
    assert shown(picture, page, box) == blank()


def test_a_crowded_page_is_shown_from_its_picture(qtbot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(page_view, "FEW", 0)
    view = PageView(None)
    qtbot.addWidget(view)
    view.resize(SIZE)
    with qtbot.waitExposed(view):
        view.show()
    assert view.picture.done
    view.show_page(pages(bound())[0])
    with qtbot.waitSignal(view.picture.made):
        pass
    sliced = view.grab().toImage()
    monkeypatch.setattr(page_view, "FEW", 10_000)
    assert apart(sliced, view.grab().toImage()) <= ROUNDED
    assert levels(sliced).min() < 100
    assert QColor(sliced.pixel(sliced.width() // 2, 2)) != QColor("white")
