"""Center lines of the finished drawing, thin, on the part that is drawn."""

from __future__ import annotations

from PySide6.QtGui import QPainter

from sketcher.desk.scene.curve_layer import stroke_curve
from sketcher.desk.scene.layer import Layer
from sketcher.desk.scene.pens import pen_on


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
                for stroke in line.strokes:
                    stroke_curve(painter, sheet, stroke)
            painter.setPen(ink)
            for dash in line.dashes:
                stroke_curve(painter, sheet, dash)

    def _is_quiet(self, name: str) -> bool:
        """Tell whether an axis is bound: only then its state need not be shown."""
        states = self.sheet.board.report.states
        return states.get(name, "bound") == "bound"
