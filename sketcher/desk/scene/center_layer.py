"""Center lines of the finished drawing, thin, on the part that is drawn."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtGui import QPainter

from sketcher.board.dimensions.shown_center_lines import CenterLine
from sketcher.desk.scene.curve_layer import stroke_curve
from sketcher.desk.scene.layer import Layer
from sketcher.desk.scene.pens import pen_on
from sketcher.geometry.curves import Line
from sketcher.part.value import LineCurve


class CenterLayer(Layer):
    """Paints the center lines; one on a drawn axis takes the place of the axis' own dashes."""

    def draw(self, painter: QPainter) -> None:
        """Paint what is switched on; nothing while center lines are hidden."""
        sheet = self.sheet
        if not sheet.shows("centers"):
            return
        ground = pen_on(painter, sheet.look.sheet, 2.6)
        ink = pen_on(painter, sheet.look.axis, 1.2)
        for line in sheet.board.bench.derived.center_lines_at_hand():
            if line.off or (line.is_axis and not self._is_quiet(line.axis)):
                continue
            if line.is_axis:
                painter.setPen(ground)
                for axis in self._drawn(line):
                    stroke_curve(painter, sheet, axis)
            painter.setPen(ink)
            for dash in line.dashes:
                stroke_curve(painter, sheet, dash)

    def _drawn(self, line: CenterLine) -> Iterator[Line]:
        """Yield the drawn axes under a line, which may reach farther than it."""
        part = self.sheet.board.part
        for name in line.axes:
            curve = part.curves.get(name)
            if isinstance(curve, LineCurve):
                yield Line(part.points[curve.ends[0]], part.points[curve.ends[1]])

    def _is_quiet(self, name: str) -> bool:
        """Tell whether an axis is bound: only then its state need not be shown."""
        states = self.sheet.board.report.states
        return states.get(name, "bound") == "bound"
