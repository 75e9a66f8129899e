"""A hand-in on its key: the key wide and grey, the hand-in thin, deductions as ringed numbers."""

from __future__ import annotations

from math import hypot

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QMouseEvent, QPainter
from PySide6.QtWidgets import QWidget

from sketcher.desk.dialogs.drawn_curves import paint_curves, pen_of
from sketcher.desk.dialogs.drawn_view import DrawnView
from sketcher.desk.looks import Look
from sketcher.desk.scene.camera import Camera
from sketcher.geometry.bounds import bounds, bounds_of
from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.evaluate import moved, scaled
from sketcher.marking.marked_view import MarkedView
from sketcher.marking.marks import Deduction
from sketcher.marking.number_rings import LETTERING, NumberRing, RingTip, gathered, number_rings

LETTERS = 0.55
"""Height of the ringed numbers in heights of a line of letters."""
KEY_WIDTH, HAND_WIDTH = 4.0, 1.5
CENTER_DASHES = [12.0, 3.0, 2.0, 3.0]
LEAST_TEXT = 5.0
"""Pixels of a dimension's letters below which they are left out."""
CAPITAL = 0.7
"""Height of capitals in heights of the font (common practice, no source)."""
MOST_INK = 1500
"""Curves in view that rings are kept clear of; past that they take a second to be placed."""


class HandInView(DrawnView):
    """Shows one hand-in; a press on a ring picks its deduction."""

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(look, parent)
        self.shown: MarkedView | None = None
        self.deductions: tuple[Deduction, ...] = ()
        self._rings: tuple[NumberRing, ...] = ()
        self._rings_of: tuple[object, ...] = ()
        self.setAccessibleName("The hand-in on its key")

    def sizeHint(self) -> QSize:
        """Return a size in which rings find room."""
        return QSize(560, 380)

    def show_hand_in(
        self, shown: MarkedView | None, deductions: tuple[Deduction, ...], words: str = ""
    ) -> None:
        """Show another hand-in, or other deductions of it; `words` where there is no picture."""
        if shown is not self.shown:
            self.fitted = True
        self.shown, self.deductions, self.waiting_for = shown, deductions, words
        curves = [] if shown is None else [*shown.key, *shown.outline]
        self.see(bounds_of(curves) if curves else None)

    def place_of(self, number: int) -> XY | None:
        """Return where a deduction is."""
        return next((each.mistake.at for each in self.deductions if each.number == number), None)

    def numbers_at(self, pixel: XY) -> list[int]:
        """Return the deductions whose rings or places lie under a pixel."""
        found = []
        unit = self._unit()
        at = (pixel[0] / unit, (self.camera.height - pixel[1]) / unit)
        for ring in self.rings():
            for number, center in zip(ring.tip.numbers, ring.centers, strict=True):
                if hypot(at[0] - center[0], at[1] - center[1]) <= ring.radius:
                    return [int(number)]
            if hypot(at[0] - ring.tip.at[0], at[1] - ring.tip.at[1]) <= ring.radius:
                found += [int(number) for number in ring.tip.numbers]
        return found

    # Rings: laid out on the pixels as on paper, whose letters are as high as theirs.

    def _unit(self) -> float:
        """Return pixels of a millimetre of the paper that rings are laid out for."""
        return LETTERS * self.fontMetrics().height() / LETTERING

    def rings(self) -> tuple[NumberRing, ...]:
        """Return the rings of the places in view; while the drawing is pulled they go with it."""
        camera, unit = self.camera, self._unit()
        if self.shown is None:
            return ()
        seen = (self.shown, tuple((d.number, d.mistake.at) for d in self.deductions), camera, unit)
        if seen == self._rings_of:
            return self._rings
        before = self._rings_of[2] if self._rings_of[:2] == seen[:2] else None
        if self.pulled_along and isinstance(before, Camera) and before.scale == camera.scale:
            x, y = (now - then for now, then in zip(
                camera.to_screen((0.0, 0.0)), before.to_screen((0.0, 0.0)), strict=True))
            self._rings = tuple(_carried(ring, x / unit, -y / unit) for ring in self._rings)
        else:
            tips = gathered([(self._on_paper(each.mistake.at), str(each.number))
                             for each in self.deductions
                             if camera.meets((*each.mistake.at, *each.mistake.at))])
            ink = [_laid(curve, camera, unit) for curve in self._ink()]
            area = (0.0, 0.0, camera.width / unit, camera.height / unit)
            self._rings = number_rings(tips, ink, area)
        self._rings_of = seen
        return self._rings

    def _ink(self) -> list[Curve]:
        assert self.shown is not None
        every = [*self.shown.key, *(c for curves in self.shown.hand.values() for c in curves)]
        near = [curve for curve in every if self.camera.meets(bounds(curve))]
        return near if len(near) <= MOST_INK else []

    def _on_paper(self, at: XY) -> XY:
        x, y = self.camera.to_screen(at)
        return x / self._unit(), (self.camera.height - y) / self._unit()

    def _pixel(self, at: XY) -> QPointF:
        unit = self._unit()
        return QPointF(at[0] * unit, self.camera.height - at[1] * unit)

    # Painting.

    def paint_drawing(self, painter: QPainter) -> bool:
        """Paint key, hand-in and rings."""
        shown, look = self.shown, self.look
        if shown is None:
            return False
        paint_curves(painter, shown.key, self.camera, pen_of(look.quiet, KEY_WIDTH))
        drawn = shown.hand
        center = pen_of(look.axis, 1.0)
        center.setDashPattern(CENTER_DASHES)
        paint_curves(painter, drawn.get("construction", ()), self.camera,
                     pen_of(look.scribe, 1.0, dashed=True))
        paint_curves(painter, drawn.get("dimension", ()), self.camera, pen_of(look.dim_lines, 1.0))
        paint_curves(painter, drawn.get("center", ()), self.camera, center)
        paint_curves(painter, shown.outline, self.camera, pen_of(look.ink, HAND_WIDTH))
        self._paint_texts(painter, shown)
        rings = self.rings()
        for ring in sorted(rings, key=lambda each: str(self.chosen) in each.tip.numbers):
            self._paint_ring(painter, ring)
        return True

    def _paint_texts(self, painter: QPainter, shown: MarkedView) -> None:
        """Write what the dimensions of the hand-in say, where that is large enough to be read."""
        painter.setPen(QColor(self.look.reference))
        for text in shown.texts:
            high = text.height * self.camera.scale
            if not LEAST_TEXT <= high <= self.height():
                continue
            font = QFont(self.font())
            font.setPixelSize(round(high / CAPITAL))
            painter.setFont(font)
            x, y = self.camera.to_screen(text.at)
            room = QRectF(x - 20.0 * high, y - high, 40.0 * high, 2.0 * high)
            painter.drawText(room, int(Qt.AlignmentFlag.AlignCenter), text.text)

    def zoom(self, factor: float, about: XY | None = None) -> None:
        """Come closer: to a pixel, else to the deduction that is chosen."""
        at = self.place_of(self.chosen) if about is None and self.chosen else None
        super().zoom(factor, about if at is None else self.camera.to_screen(at))

    def _paint_ring(self, painter: QPainter, ring: NumberRing) -> None:
        by_number = {str(each.number): each for each in self.deductions}
        chosen = str(self.chosen) in ring.tip.numbers
        tip, foot = self._pixel(ring.tip.at), self._pixel(ring.foot)
        color = self.look.focus if chosen else self.look.clash
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(pen_of(color, 2.0 if chosen else 1.2))
        painter.drawLine(foot, tip)
        painter.setBrush(QColor(color))
        painter.drawEllipse(tip, 3.0, 3.0)
        for number, center in zip(ring.tip.numbers, ring.centers, strict=True):
            own = number == str(self.chosen)
            waived = by_number[number].ruling == "waived"
            color = self.look.focus if own else self.look.quiet if waived else self.look.clash
            at, reach = self._pixel(center), ring.radius * self._unit()
            painter.setBrush(QColor(self.look.sheet))
            painter.setPen(pen_of(color, 2.6 if own else 1.4, dashed=waived))
            painter.drawEllipse(at, reach, reach)
            font = QFont(self.font())
            font.setBold(own)
            painter.setFont(font)
            painter.setPen(QColor(self.look.dims))
            painter.drawText(QRectF(at.x() - 2 * reach, at.y() - reach, 4 * reach, 2 * reach),
                             int(Qt.AlignmentFlag.AlignCenter), number)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let it go; rings that were pulled along are laid out where the drawing is now."""
        if self.pulled_along:
            self._rings_of = ()
            self.update()
        super().mouseReleaseEvent(event)


def _carried(ring: NumberRing, x: float, y: float) -> NumberRing:
    """Return rings pulled along."""
    def by(at: XY) -> XY:
        return at[0] + x, at[1] + y

    return NumberRing(RingTip(by(ring.tip.at), ring.tip.numbers), tuple(map(by, ring.centers)),
                      ring.radius, by(ring.foot))


def _laid(curve: Curve, camera: Camera, unit: float) -> Curve:
    """Return a curve as it lies on the pixels, y up, in millimetres of letters."""
    factor = camera.scale / unit
    x, y = camera.to_screen((0.0, 0.0))
    return moved(scaled(curve, factor), x / unit, (camera.height - y) / unit)
