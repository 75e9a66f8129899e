"""How each kind of line of a cut is painted, and the legend that tells them apart."""

from __future__ import annotations

import sys
from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from sketcher.desk.dialogs.drawn_curves import pen_of
from sketcher.desk.looks import Look
from sketcher.shop.cut_plan import CutPlan, MarkForm

STYLES: dict[str, tuple[str, float, tuple[float, ...]]] = {
    "outside": ("ink", 2.2, ()),
    "inside": ("loose", 1.8, (9.0, 3.0)),
    "lead": ("guide", 1.8, (3.0, 3.0)),
    "rapid": ("dim_lines", 1.0, (1.5, 4.0)),
    "plate": ("scribe", 1.2, (14.0, 4.0, 2.0, 4.0)),
    "mark": ("clash", 1.8, ()),
    "done": ("preview", 4.0, ()),
}
"""Color of the look, width, and strokes and gaps of its dashes, in pixels."""
FILL = 60
"""How much the finished part is shaded, of 255."""
SIGN = 5.0
"""Pixels from the middle of a punch mark's sign to its end."""
SAMPLE, GAP, BETWEEN = 30.0, 6.0, 16.0
"""Pixels of a line of the legend, to its words, and to the next line."""
WORDS = {"part": "finished part", "outside": "outside", "inside": "inside", "lead": "lead-in",
         "tab": "tab", "mark": "punch mark", "pierce": "pierce", "rapid": "rapid move",
         "plate": "plate", "done": "cut so far"}


def cut_pen(kind: str, look: Look) -> QPen:
    """Return the pen of a kind of line."""
    color, width, dashes = STYLES[kind]
    pen = pen_of(getattr(look, color), width)
    if dashes:
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        pen.setDashPattern([length / width for length in dashes])
    return pen


def paint_mark(painter: QPainter, at: QPointF, form: MarkForm, pen: QPen) -> None:
    """Paint a punch mark as the file has it, as large as can be seen."""
    pen = QPen(pen)
    pen.setWidthF(min(pen.widthF(), 2.6))
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if form == "circle":
        painter.drawEllipse(at, SIGN, SIGN)
    elif form == "cross":
        for dx, dy in ((SIGN, 0.0), (0.0, SIGN)):
            painter.drawLine(at - QPointF(dx, dy), at + QPointF(dx, dy))
    else:
        painter.setBrush(pen.color())
        painter.drawEllipse(at, 0.5 * SIGN, 0.5 * SIGN)


def paint_tab(painter: QPainter, at: QPointF, look: Look) -> None:
    """Paint the sign of a tab: a diamond, for the gap itself may be less than a pixel."""
    painter.setPen(pen_of(look.axis, 1.4))
    painter.setBrush(QColor(look.sheet))
    painter.drawPolygon(QPolygonF([at + QPointF(dx, dy) for dx, dy in (
        (SIGN, 0.0), (0.0, SIGN), (-SIGN, 0.0), (0.0, -SIGN))]))


def kinds_in(plan: CutPlan) -> tuple[str, ...]:
    """Return what there is of a plan to be told apart, in the order of the legend."""
    paths = plan.paths
    there = {"part": bool(plan.finished), "pierce": bool(paths), "done": bool(paths),
             "outside": any(not path.contour.hole for path in paths),
             "inside": any(path.contour.hole for path in paths),
             "lead": any(path.lead_in or path.lead_out for path in paths),
             "tab": any(path.tabs for path in paths), "mark": bool(plan.marks),
             "rapid": len(paths) + len(plan.marks) > 1, "plate": bool(plan.plate)}
    return tuple(kind for kind in WORDS if there[kind])


class CutLegend(QWidget):
    """Tells what each kind of line is; takes as many rows as its width asks for."""

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self.look = look
        self.kinds: tuple[str, ...] = ()
        self.form: MarkForm = "point"
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Legend")

    def show_kinds(self, kinds: Sequence[str], form: MarkForm = "point") -> None:
        """Show what there is."""
        self.kinds, self.form = tuple(kinds), form
        self.setAccessibleDescription(", ".join(WORDS[kind] for kind in kinds))
        self._take_height()
        self.update()

    def sizeHint(self) -> QSize:
        """Return the size that the rows take."""
        return QSize(200, self.height_for(max(self.width(), 200)))

    def height_for(self, width: float) -> int:
        """Return the height in a width."""
        places = self.places(width)
        return round((places[-1][1].bottom() if places else self._row()) + 1.0)

    def places(self, width: float) -> list[tuple[str, QRectF]]:
        """Return the kinds and where each of them stands in a width."""
        found: list[tuple[str, QRectF]] = []
        x = y = 0.0
        for kind in self.kinds:
            wide = SAMPLE + GAP + self.fontMetrics().horizontalAdvance(WORDS[kind])
            if x and x + wide > width:
                x, y = 0.0, y + self._row()
            found.append((kind, QRectF(x, y, wide, self._row())))
            x += wide + BETWEEN
        return found

    def _row(self) -> float:
        return float(self.fontMetrics().height() + 2)

    def _take_height(self) -> None:
        self.setFixedHeight(self.height_for(self.width()))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Take as many rows as the width asks for."""
        self._take_height()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint a sample of each kind before its word."""
        painter = QPainter(self)
        try:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            for kind, box in self.places(self.width()):
                sample = QRectF(box.left(), box.top(), SAMPLE, box.height())
                painter.fillRect(sample.adjusted(0.0, 1.0, 0.0, -1.0), QColor(self.look.sheet))
                self._paint_sample(painter, kind, sample)
                painter.setPen(self.palette().windowText().color())
                painter.drawText(box.adjusted(SAMPLE + GAP, 0.0, 4.0, 0.0),
                                 int(Qt.AlignmentFlag.AlignVCenter), WORDS[kind])
        except Exception:  # noqa: BLE001 - an exception that leaves an override can end the process
            sys.excepthook(*sys.exc_info())
        finally:
            painter.end()

    def _paint_sample(self, painter: QPainter, kind: str, box: QRectF) -> None:
        look, middle = self.look, box.center()
        if kind == "part":
            shade = QColor(look.quiet)
            shade.setAlpha(FILL)
            painter.fillRect(box.adjusted(3.0, 3.0, -3.0, -3.0), shade)
        elif kind == "tab":
            paint_tab(painter, middle, look)
        elif kind == "mark":
            paint_mark(painter, middle, self.form, cut_pen("mark", look))
        elif kind == "pierce":
            painter.setPen(pen_of(look.ink, 1.4))
            painter.setBrush(QColor(look.sheet))
            painter.drawEllipse(middle, 3.0, 3.0)
        else:
            painter.setPen(cut_pen(kind, look))
            painter.drawLine(QPointF(box.left() + 2.0, middle.y()),
                             QPointF(box.right() - 2.0, middle.y()))
