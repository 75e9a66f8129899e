"""Printing with a preview: the pages of the finished drawing at their true size."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import QMarginsF, QRectF, QSizeF
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrinter, QPrintPreviewDialog
from PySide6.QtWidgets import QWidget

from sketcher.drafting.page import Page
from sketcher.exchange.pdf import paint
from sketcher.quantity.units import MM_PER_INCH


def printer_for(pages: Sequence[Page]) -> QPrinter:
    """Return a printer set to the first page's paper, without margins of its own."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setDocName(pages[0].title)
    printer.setFullPage(True)
    printer.setPageLayout(_layout(pages[0]))
    return printer


def print_pages(pages: Sequence[Page], printer: QPrinter) -> None:
    """Paint all pages on a printer: a millimetre of the page is one on the paper."""
    printer.setFullPage(True)
    printer.setPageLayout(_layout(pages[0]))
    painter = QPainter(printer)
    try:
        for number, page in enumerate(pages):
            if number:
                printer.setPageLayout(_layout(page))
                printer.newPage()
            painter.save()
            box = QRectF(printer.paperRect(QPrinter.Unit.DevicePixel))
            per_mm = printer.resolution() / MM_PER_INCH
            painter.setClipRect(QRectF(0.0, 0.0, box.width(), box.height()))
            painter.scale(per_mm, per_mm)
            paint(painter, page)
            painter.restore()
    finally:
        painter.end()


def preview_print(pages: Sequence[Page], parent: QWidget) -> bool:
    """Show the pages as the printer will have them; return whether they were printed."""
    printer = printer_for(pages)
    dialog = QPrintPreviewDialog(printer, parent)
    dialog.setWindowTitle("Print the drawing")
    dialog.paintRequested.connect(partial(print_pages, pages))
    done = bool(dialog.exec())
    dialog.deleteLater()
    return done


def _layout(page: Page) -> QPageLayout:
    size = QPageSize(QSizeF(*page.size), QPageSize.Unit.Millimeter, page.sheet,
                     QPageSize.SizeMatchPolicy.FuzzyMatch)
    wide = page.size[0] > page.size[1]
    # Standard papers are upright by themselves and turned by the orientation.
    turned = wide and size.size(QPageSize.Unit.Millimeter).width() < page.size[0] - 1.0
    way = QPageLayout.Orientation.Landscape if turned else QPageLayout.Orientation.Portrait
    return QPageLayout(size, way, QMarginsF(0.0, 0.0, 0.0, 0.0), QPageLayout.Unit.Millimeter,
                       QMarginsF(0.0, 0.0, 0.0, 0.0))
