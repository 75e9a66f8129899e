"""The drawing of a problem's paper, with what is asked about marked on it."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
from math import cos, hypot, radians, sin

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF, QTransform
from PySide6.QtWidgets import QWidget

from sketcher.board.exercise.hints import HintMark
from sketcher.desk.dialogs.page_view import PageView
from sketcher.drafting.page import Page
from sketcher.drafting.primitives import Stroke, Text
from sketcher.exchange.pdf import curve_path
from sketcher.geometry.bounds import bounds_of
from sketcher.geometry.curves import XY, Circle, Curve
from sketcher.part.whole import middle

LIT, ASKED = "#0072b2", "#a8196b"
"""On white paper: what a row of the list is about, and what a hint is about."""
BAND = 5.0
"""Pixels of width of a band along a curve that is meant."""
ROUND_TEXT = 0.6
"""Millimetres on paper between lettering and the frame around it."""
DISC = 9.0
"""Pixels of radius of a letter's disc, at the usual size of lettering."""

FEW, AROUND, NEAREST = 4, 0.12, 2.5
"""Marks past which the picture comes closer to them; what of the larger side stays around them; and
how much closer at most."""
RINGS = (1.6, 2.6, 3.6)
TURNS = tuple(radians(turn) for turn in (55, 125, 0, 180, 270, 90, 305, 235))
"""How far from its place a letter goes, by the radius of its disc, and to which sides in turn."""


class HandoutView(PageView):
    """Shows the drawing; the wheel comes closer, the pointer pulls it along.

    Parameters
    ----------
    parent : QWidget
    """

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAccessibleName("Paper")
        self.setAccessibleDescription(
            "The drawing of the problem. Plus and minus change its size, 0 shows all of it.")
        self._lit: tuple[str, tuple[Curve, ...]] = ("", ())
        self._marks: tuple[HintMark, ...] = ()

    def sizeHint(self) -> QSize:
        """Return a size at which a small drawing can be read."""
        return QSize(320, 240)

    def show_page(self, page: Page | None) -> None:
        """Show another drawing, with nothing marked."""
        super().show_page(page)
        self._lit, self._marks = ("", ()), ()

    def light(self, dimension: str, curves: Iterable[Curve] = ()) -> None:
        """Mark a dimension by its id, and curves of the key; nothing for an empty id."""
        self._lit = (dimension, tuple(curves))
        self.update()

    def ask_about(self, marks: Sequence[HintMark]) -> None:
        """Mark what a hint is about, and come closer to it where that helps."""
        if self._marks == tuple(marks):
            return
        self._marks = tuple(marks)
        self.zoom(0.0)
        if len(marks) > FEW and self.page is not None and self.page.view is not None:
            self._come_closer(self.page)
        self.update()

    def _come_closer(self, page: Page) -> None:
        assert page.view is not None
        left, low, right, high = bounds_of([page.view.curve(mark.curve) for mark in self._marks])
        wide, tall = page.size
        air = AROUND * max(wide, tall)
        self.zoom(min(NEAREST, wide / (right - left + 2.0 * air), tall / (high - low + 2.0 * air)))
        if self.closer > 1.0:
            self._middle = QPointF(0.5 * (left + right) / wide, 1.0 - 0.5 * (low + high) / tall)

    @property
    def marks(self) -> tuple[HintMark, ...]:
        """What of a hint is marked."""
        return self._marks

    @property
    def lit(self) -> str:
        """Id of the dimension that is marked."""
        return self._lit[0]

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the drawing, and the marks over it."""
        super().paintEvent(event)
        painter = QPainter(self)
        try:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            if self.page is not None:
                self._paint_lit(painter, self.page)
                self._paint_marks(painter, self.page)
        except Exception:  # noqa: BLE001 - an exception that leaves an override can end the process
            sys.excepthook(*sys.exc_info())
        finally:
            painter.end()

    def _to_widget(self) -> QTransform:
        box, scale = self.place()
        return QTransform(scale, 0.0, 0.0, -scale, box.left(), box.bottom())

    def _paint_lit(self, painter: QPainter, page: Page) -> None:
        name, curves = self._lit
        if not name:
            return
        to_widget = self._to_widget()
        for curve in curves:
            self._paint_band(painter, page, curve, LIT)
        pen = QPen(QColor(LIT), 2.0)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for item in (item for dim in page.dimensions if dim.id == name for item in dim.items):
            if isinstance(item, Stroke):
                painter.drawPath(to_widget.map(curve_path(item.curve)))
            elif isinstance(item, Text):
                box = QPolygonF([to_widget.map(QPointF(*at)) for at in item.box(ROUND_TEXT)])
                painter.drawPolygon(box)

    def _paint_band(self, painter: QPainter, page: Page, curve: Curve, ink: str) -> None:
        assert page.view is not None
        color = QColor(ink)
        color.setAlpha(110)
        pen = QPen(color, BAND)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPath(self._to_widget().map(curve_path(page.view.curve(curve))))

    def _paint_marks(self, painter: QPainter, page: Page) -> None:
        assert page.view is not None
        to_widget = self._to_widget()
        font = self.font()
        font.setBold(True)
        painter.setFont(font)
        spots = []
        for mark in self._marks:
            spot = to_widget.map(QPointF(*page.view.point(beside(mark.curve))))
            spots.append(spot)
            if is_place(mark.curve):
                painter.setPen(QPen(QColor(ASKED), 1.6))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawEllipse(spot, 4.0, 4.0)
            else:
                self._paint_band(painter, page, mark.curve, ASKED)
        lettered = [n for n, mark in enumerate(self._marks) if mark.letter]
        disc = DISC * max(1.0, self.fontMetrics().height() / 16.0)
        free = [is_place(self._marks[n].curve) for n in lettered]
        places = self.letter_places([spots[n] for n in lettered], free, disc)
        painter.setPen(QPen(QColor(ASKED), 1.6))
        painter.setBrush(QColor("#ffffff"))
        for number, at in zip(lettered, places, strict=True):
            painter.drawEllipse(at, disc, disc)
            painter.drawText(QRectF(at.x() - disc, at.y() - disc, 2.0 * disc, 2.0 * disc),
                             Qt.AlignmentFlag.AlignCenter, self._marks[number].letter)

    def letter_places(
        self, spots: Sequence[QPointF], beside_it: Sequence[bool], disc: float
    ) -> list[QPointF]:
        """Return where letters stand so that none lies on another.

        Parameters
        ----------
        spots : sequence of QPointF
            Places that they are about, in pixels.
        beside_it : sequence of bool
            Whether a letter must leave its place to be seen.
        disc : float
            Radius of a letter's disc in pixels.
        """
        found: list[QPointF] = []
        for spot, leaves in zip(spots, beside_it, strict=True):
            near = [] if leaves else [spot]
            near += [spot + QPointF(far * disc * cos(turn), -far * disc * sin(turn))
                     for far in RINGS for turn in TURNS]
            inside = [QPointF(min(max(at.x(), disc), self.width() - disc),
                              min(max(at.y(), disc), self.height() - disc)) for at in near]
            found.append(next((at for at in inside if all(
                hypot(at.x() - o.x(), at.y() - o.y()) >= 2.0 * disc for o in found)), inside[0]))
        return found


def is_place(curve: Curve) -> bool:
    """Tell whether a mark is about a place."""
    return isinstance(curve, Circle) and not curve.radius


def beside(curve: Curve) -> XY:
    """Return the place on a curve where its letter stands: on its rim, not at its center."""
    if isinstance(curve, Circle):
        x, y = curve.center
        return (x + 0.7071 * curve.radius, y + 0.7071 * curve.radius)
    return middle(curve)
