"""What will be cut, in order: told by line style and mark first, by color second."""

from __future__ import annotations

from collections.abc import Sequence
from math import dist
from typing import TypeAlias

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPixmap,
    QTransform,
)
from PySide6.QtWidgets import QWidget

from sketcher.board.files.cutting_run import CutRun, down_at
from sketcher.desk.dialogs.cutting_styles import FILL, cut_pen, paint_mark, paint_tab
from sketcher.desk.dialogs.drawn_curves import paint_curves, pen_of
from sketcher.desk.dialogs.drawn_view import DrawnView
from sketcher.desk.looks import Look
from sketcher.desk.scene.camera import Camera
from sketcher.desk.scene.paths import loop_path
from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.evaluate import midpoint
from sketcher.shop.cut_plan import CutMark, CutPath, CutPlan
from sketcher.shop.lower_left import box_of_cut

PIERCE = 3.0
"""Pixels from the middle of a pierce point's sign to its edge."""
AWAY = 5.0
"""Pixels between a pierce point and its number."""
NEAR = 9.0
"""Pixels within which a press means a pierce point."""
TORCH = 8.0
CELL = 64.0
"""Pixels of a cell in which numbers are looked for that another one would lie on."""

CROWDED = 600
"""Stretches of the way from which the picture is pulled along as it is: 4000 take half a second."""
Painted: TypeAlias = tuple[CutRun, Camera, Look, float]
"""Of what and from where the picture was painted."""


class CutView(DrawnView):
    """Shows a plan and how far it is cut; a press on a number goes to where it begins.

    Signals
    -------
    stepped(int)
        A key asks for the step before, -1, or the next, 1.
    toggled()
        The space bar asks to play, or to rest.
    """

    stepped = Signal(int)
    toggled = Signal()

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(look, parent)
        self.run: CutRun | None = None
        self.place = 0.0
        self._ground = QPixmap()
        self._ground_of: Painted | None = None
        self._done = QPixmap()
        self._signs = QPixmap()
        self._done_legs = 0
        self._labels: dict[int, QRectF] = {}
        self.setAccessibleName("What will be cut")
        self.setAccessibleDescription(
            "Space plays and rests, Page Up and Page Down go by one cut. Plus and minus change "
            "its size, 0 shows all of it, the arrow keys move it.")

    def sizeHint(self) -> QSize:
        """Return a size in which numbers can be read."""
        return QSize(720, 420)

    # What is shown.

    def show_run(self, run: CutRun | None, words: str = "") -> None:
        """Show another plan; `words` where there is none."""
        self.run, self.place, self.waiting_for = run, 0.0, words
        self._ground_of = None
        self.see(box_of_cut(run.plan) if run is not None and run.steps else None)

    def go_to(self, place: float) -> None:
        """Show what is cut by a place on the way."""
        self.place = place
        self.update()

    def place_of(self, number: int) -> XY | None:
        """Return where a cut begins."""
        return None if self.run is None else down_at(self.run.steps[number - 1])

    def numbers_at(self, pixel: XY) -> list[int]:
        """Return the cuts whose numbers or pierce points lie under a pixel."""
        if self.run is None:
            return []
        at = QPointF(*pixel)
        shown = [number for number, box in self._labels.items() if box.contains(at)]
        return shown or [number for number, step in enumerate(self.run.steps, 1)
                         if dist(self.camera.to_screen(down_at(step)), pixel) <= NEAR]

    # Painting.

    def paint_drawing(self, painter: QPainter) -> bool:
        """Paint the plan, what of it is cut, and the torch."""
        run = self.run
        if run is None:
            return False
        seen = (run, self.camera, self.look, self.devicePixelRatioF())
        dx, dy = self._pulled_by(seen)
        if seen != self._ground_of and not (dx or dy):
            self._ground_of = seen
            self._ground, self._signs = self._sheet(), self._sheet()
            with_pen = self._painting(self._ground)
            self._paint_plan(with_pen, run)
            with_pen.end()
            with_pen = self._painting(self._signs)
            self._paint_pierces(with_pen, run.plan)
            self._paint_numbers(with_pen, run.steps)
            with_pen.end()
            self._done, self._done_legs = self._sheet(), 0
        if not (dx or dy):
            self._follow_legs(run)
        for sheet in (self._ground, self._done):
            painter.drawPixmap(QPointF(dx, dy), sheet)
        leg = run.index(self.place)
        if leg < len(run.legs) and run.legs[leg].kind == "cut":
            paint_curves(painter, run.begun(self.place), self.camera, cut_pen("done", self.look))
        painter.drawPixmap(QPointF(dx, dy), self._signs)
        self._paint_torch(painter, run)
        return True

    def _pulled_by(self, seen: Painted) -> XY:
        """Return by how many pixels a crowded picture is pulled along as it was painted."""
        before, run = self._ground_of, seen[0]
        if not self.pulled_along or before is None or len(run.legs) < CROWDED \
                or (run, seen[1].scale, *seen[2:]) != (before[0], before[1].scale, *before[2:]):
            return 0.0, 0.0
        (x, y), (x0, y0) = seen[1].to_screen((0.0, 0.0)), before[1].to_screen((0.0, 0.0))
        return x - x0, y - y0

    def _sheet(self) -> QPixmap:
        ratio = self.devicePixelRatioF()
        made = QPixmap(self.size() * ratio)
        made.setDevicePixelRatio(ratio)
        made.fill(Qt.GlobalColor.transparent)
        return made

    def _painting(self, sheet: QPixmap) -> QPainter:
        painter = QPainter(sheet)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(self.font())
        return painter

    def _follow_legs(self, run: CutRun) -> None:
        """Paint what was cut since, and not again what was cut before: there may be thousands."""
        wanted = run.index(self.place)
        if wanted < self._done_legs:
            self._done, self._done_legs = self._sheet(), 0
        if wanted == self._done_legs:
            return
        painter = self._painting(self._done)
        pen = cut_pen("done", self.look)
        for leg in run.legs[self._done_legs:wanted]:
            if leg.kind == "cut":
                paint_curves(painter, leg.curves, self.camera, pen)
            elif leg.kind == "mark":
                paint_mark(painter, self._pixel(leg.at), run.plan.settings.mark_form, pen)
        painter.end()
        self._done_legs = wanted

    def _paint_plan(self, painter: QPainter, run: CutRun) -> None:
        plan, look, camera = run.plan, self.look, self.camera
        (left, top), scale = camera.to_screen((0.0, 0.0)), camera.scale
        finished = QPainterPath()
        finished.setFillRule(Qt.FillRule.OddEvenFill)
        for contour in plan.finished:
            finished.addPath(loop_path(contour.curves))
        shade = QColor(look.quiet)
        shade.setAlpha(FILL)
        painter.fillPath(QTransform(scale, 0.0, 0.0, -scale, left, top).map(finished), shade)
        paint_curves(painter, plan.plate, camera, cut_pen("plate", look))
        paint_curves(painter, [curve for leg in run.legs if leg.kind == "rapid"
                               for curve in leg.curves], camera, cut_pen("rapid", look))
        for leg in run.legs:
            if leg.kind == "tab":
                paint_tab(painter, self._pixel(midpoint(leg.curves[len(leg.curves) // 2])), look)
        kinds: dict[str, list[Curve]] = {"lead": [], "inside": [], "outside": []}
        for leg in run.legs:
            step = run.steps[leg.number - 1]
            if leg.kind == "cut" and isinstance(step, CutPath):
                kind = "lead" if leg.curves in (step.lead_in, step.lead_out) else (
                    "inside" if step.contour.hole else "outside")
                kinds[kind] += leg.curves
        for kind, curves in kinds.items():
            paint_curves(painter, curves, camera, cut_pen(kind, look))
        for mark in plan.marks:
            paint_mark(painter, self._pixel(mark.at), plan.settings.mark_form,
                       cut_pen("mark", look))

    def _paint_pierces(self, painter: QPainter, plan: CutPlan) -> None:
        painter.setPen(pen_of(self.look.ink, 1.4))
        painter.setBrush(QColor(self.look.sheet))
        for path in plan.paths:
            painter.drawEllipse(self._pixel(path.pierce), PIERCE, PIERCE)

    def _paint_numbers(self, painter: QPainter, steps: Sequence[CutMark | CutPath]) -> None:
        """Write the order; a number that would lie on another is left out until one is nearer."""
        self._labels = {}
        metrics = self.fontMetrics()
        painter.setPen(QColor(self.look.dims))
        ground = QColor(self.look.sheet)
        ground.setAlpha(200)
        window = QRectF(self.rect())
        near: dict[tuple[int, int], list[QRectF]] = {}  # by cells: there may be thousands
        for number, step in enumerate(steps, 1):
            at = self._pixel(down_at(step))
            if not window.contains(at):
                continue
            wide, high = metrics.horizontalAdvance(str(number)) + 4, metrics.ascent() + 1
            box = next((box for box in _beside(at, wide, high) if window.contains(box)
                        and not any(box.intersects(other) for cell in _cells(box)
                                    for other in near.get(cell, ()))), None)
            if box is None:
                continue
            self._labels[number] = box
            for cell in _cells(box):
                near.setdefault(cell, []).append(box)
            painter.fillRect(box, ground)
            painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), str(number))

    def _paint_torch(self, painter: QPainter, run: CutRun) -> None:
        at = run.torch(self.place)
        if at is None:
            return
        place = self._pixel(at)
        painter.setPen(pen_of(self.look.focus, 2.0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(place, TORCH, TORCH)
        for dx, dy in ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)):
            near, far = 0.6 * TORCH, 1.5 * TORCH
            painter.drawLine(place + QPointF(near * dx, near * dy),
                             place + QPointF(far * dx, far * dy))

    def _pixel(self, at: XY) -> QPointF:
        return QPointF(*self.camera.to_screen(at))

    # Events.

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let it go; what was pulled along is painted where it is now."""
        self.update()
        super().mouseReleaseEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take the keys that play and step; the others change what is seen."""
        steps = {Qt.Key.Key_PageUp: -1, Qt.Key.Key_PageDown: 1}
        key = Qt.Key(event.key())
        if key in steps:
            self.stepped.emit(steps[key])
        elif key == Qt.Key.Key_Space:
            self.toggled.emit()
        else:
            super().keyPressEvent(event)


def _cells(box: QRectF) -> set[tuple[int, int]]:
    """Return the cells in which a number's corners lie; numbers are smaller than a cell."""
    return {(int(x // CELL), int(y // CELL)) for x in (box.left(), box.right())
            for y in (box.top(), box.bottom())}


def _beside(at: QPointF, wide: float, high: float) -> tuple[QRectF, ...]:
    """Return where a number may stand beside its place, the best first."""
    x, y, gap = at.x(), at.y(), AWAY
    return (QRectF(x + gap, y - gap - high, wide, high),
            QRectF(x - gap - wide, y - gap - high, wide, high),
            QRectF(x + gap, y + gap, wide, high),
            QRectF(x - gap - wide, y + gap, wide, high))
