"""The sheet as PDF and PNG, and on any painter: true size, fonts embedded. The one Qt file here.

The writer's resolution is 2540 dots an inch, so that 100 of its units are one millimetre. Arcs are
cubics of at most 15 degrees: Qt's own arcs are off by 2.7e-4 of the radius.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from functools import cache
from math import ceil
from typing import Any

import font_source_sans_pro
from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QPointF, QSizeF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontDatabase,
    QGuiApplication,
    QImage,
    QPageLayout,
    QPageSize,
    QPainter,
    QPainterPath,
    QPdfWriter,
    QPen,
    QPolygonF,
)

from sketcher.drafting.lettering import em
from sketcher.drafting.line_classes import line_class
from sketcher.drafting.page import Page
from sketcher.drafting.primitives import BAND_INK, FAINT_INK, Fill, Item, Stroke, Text
from sketcher.errors import FileError
from sketcher.exchange.outputs import MADE_HERE
from sketcher.exchange.pdf_bookmarks import with_bookmarks
from sketcher.geometry.cubic import cubics
from sketcher.geometry.curves import Circle, Curve, Line
from sketcher.part.atomic import Put, write_bytes
from sketcher.quantity.units import MM_PER_INCH

UNITS_PER_MM = 100
FONT_PIXELS = 200
INK = "#000000"
SOLID = ("visible", "frame")
_application: list[Any] = []


def ensure_application() -> None:
    """Start a Qt application without a window where none runs: lettering needs one.

    Where widgets are loaded one that can hold them, for there is only one in a process.
    """
    if QGuiApplication.instance() is None:
        widgets = sys.modules.get("PySide6.QtWidgets")
        kind = QGuiApplication if widgets is None else widgets.QApplication
        _application.append(kind(["sketcher", "-platform", "offscreen"]))


@cache
def _families() -> tuple[str, str]:
    """Load the font that travels with the program; return its regular and bold family."""
    found = []
    for name in ("SourceSansPro", "SourceSansProSemibold"):
        number = QFontDatabase.addApplicationFont(font_source_sans_pro.font_files_ttf[name])
        families = QFontDatabase.applicationFontFamilies(number)
        # The last is the name of the face alone: the first is that of all faces of the font.
        found.append(families[-1] if families else "sans-serif")
    return (found[0], found[1])


def pdf_bytes(pages: Sequence[Page], creator: str = MADE_HERE) -> bytes:
    """Return pages as one PDF, true to size; it names its creator."""
    ensure_application()
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(round(MM_PER_INCH * UNITS_PER_MM))
    writer.setTitle(pages[0].title)
    writer.setCreator(creator)
    writer.setAuthor(pages[0].author)
    _set_page(writer, pages[0])
    painter = QPainter(writer)
    try:
        for number, page in enumerate(pages):
            if number:
                _set_page(writer, page)
                writer.newPage()
            painter.save()
            painter.scale(UNITS_PER_MM, UNITS_PER_MM)
            paint(painter, page)
            painter.restore()
    finally:
        painter.end()
    return with_bookmarks(bytes(buffer.data().data()), [page.title for page in pages])


def write_pdf(
    pages: Sequence[Page], path: str | os.PathLike[str], put: Put = write_bytes,
    creator: str = MADE_HERE,
) -> None:
    """Write pages to one PDF in one step, or `put` its content.

    Raises
    ------
    FileError
        When the file cannot be written.
    """
    put(path, pdf_bytes(pages, creator))


def _set_page(writer: QPdfWriter, page: Page) -> None:
    size = QPageSize(QSizeF(*page.size), QPageSize.Unit.Millimeter, page.sheet,
                     QPageSize.SizeMatchPolicy.ExactMatch)
    layout = QPageLayout(size, QPageLayout.Orientation.Portrait, QMarginsF(0, 0, 0, 0))
    writer.setPageLayout(layout)


def page_image(page: Page, dots_per_inch: float = 200.0) -> QImage:
    """Return a page as an image."""
    ensure_application()
    per_mm = dots_per_inch / MM_PER_INCH
    image = QImage(ceil(page.size[0] * per_mm), ceil(page.size[1] * per_mm),
                   QImage.Format.Format_RGB32)
    image.setDotsPerMeterX(round(1000 * per_mm))
    image.setDotsPerMeterY(round(1000 * per_mm))
    image.fill(QColor("#ffffff"))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(per_mm, per_mm)
    paint(painter, page)
    painter.end()
    return image


def write_png(
    page: Page, path: str | os.PathLike[str], dots_per_inch: float = 200.0, put: Put = write_bytes
) -> None:
    """Write one page as PNG in one step, or `put` its content.

    Raises
    ------
    FileError
        When the file cannot be written.
    """
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image = page_image(page, dots_per_inch)
    image.setText("Software", MADE_HERE)
    if not image.save(buffer, "PNG"):  # type: ignore[call-overload]
        raise FileError(str(path), "the image cannot be made", "choose PDF or SVG")
    put(path, bytes(buffer.data().data()))


def paint(painter: QPainter, page: Page) -> None:
    """Paint a page on a painter whose unit is one millimetre and whose origin is its upper left."""
    stand_on(painter, page)
    for item in page.all_items():
        paint_item(painter, item, page)


def stand_on(painter: QPainter, page: Page) -> None:
    """Bring a painter from a page's upper left, downwards, to its lower left, upwards."""
    painter.translate(0.0, page.size[1])
    painter.scale(1.0, -1.0)


def paint_item(painter: QPainter, item: Item, page: Page) -> None:
    """Paint one item of a page on a painter that stands on it."""
    if isinstance(item, Stroke):
        _paint_stroke(painter, item, page)
    elif isinstance(item, Fill):
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(QColor(FAINT_INK if item.faint else INK)))
        painter.drawPolygon(QPolygonF([QPointF(*p) for p in item.points]))
    else:
        _paint_text(painter, item)


def _paint_stroke(painter: QPainter, stroke: Stroke, page: Page) -> None:
    cap = Qt.PenCapStyle.RoundCap if stroke.line in SOLID else Qt.PenCapStyle.FlatCap
    width = stroke.band or line_class(page.practice, stroke.line).width
    ink = BAND_INK if stroke.band else INK
    painter.setPen(QPen(QBrush(QColor(ink)), width, Qt.PenStyle.SolidLine, cap,
                        Qt.PenJoinStyle.RoundJoin))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for dash in stroke.dashes():
        if isinstance(dash, Line):
            painter.drawLine(QPointF(*dash.start), QPointF(*dash.end))
        else:
            painter.drawPath(curve_path(dash))


def curve_path(curve: Curve) -> QPainterPath:
    """Return a curve as a path of cubics of at most 15 degrees."""
    path = QPainterPath()
    if isinstance(curve, Line):
        path.moveTo(*curve.start)
        path.lineTo(*curve.end)
        return path
    pieces = cubics(curve).tolist()
    path.moveTo(*pieces[0][0])
    for _, one, other, end in pieces:
        path.cubicTo(*one, *other, *end)
    if isinstance(curve, Circle):
        path.closeSubpath()
    return path


def _paint_text(painter: QPainter, item: Text) -> None:
    regular, bold = _families()
    font = QFont(bold if item.bold else regular)
    font.setPixelSize(FONT_PIXELS)
    font.setKerning(False)
    # One sign for two letters is no letter to who searches or copies: "Shift" would be "Shi" and
    # a sign without a name.
    font.setFeature(QFont.Tag("liga"), 0)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    # Coloured fringes would depend on what is painted on: a window has them, a picture not.
    font.setStyleStrategy(QFont.StyleStrategy.NoSubpixelAntialias)
    start = {"left": 0.0, "center": -0.5, "right": -1.0}[item.anchor] * item.width
    painter.save()
    painter.translate(*item.at)
    painter.rotate(item.angle)
    painter.translate(start, 0.0)
    size = em(item.height) / FONT_PIXELS
    painter.scale(size, -size)
    painter.setFont(font)
    painter.setPen(QColor(FAINT_INK if item.faint else INK))
    painter.drawText(QPointF(0.0, 0.0), item.text)
    painter.restore()
