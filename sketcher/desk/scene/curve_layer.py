"""The curves: outline, layout and axis, each state with its own line style before its colour."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QLineF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from sketcher.desk.looks import Look
from sketcher.desk.scene.layer import Layer
from sketcher.desk.scene.paths import LARGE, visible_path
from sketcher.desk.scene.sheet import MANY, Group, Sheet
from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import point_at, tangent_at

# Dash patterns in widths of the pen: loose is long-dashed, the axis long-short-long.
LOOSE_DASH = [7.0, 3.5]
AXIS_DASH = [14.0, 3.0, 3.0, 3.0]
LOOSE_FINE = [9.0, 5.0]


def pen_for(look: Look, role: str, state: str) -> QPen:
    """Return the pen of a role and a state, cosmetic, widths in logical pixels."""
    colours = {"loose": look.loose, "clashing": look.clash, "quiet": look.quiet}
    plain = {"outline": look.ink, "layout": look.scribe, "axis": look.axis}[role]
    width = {"outline": 2.2, "layout": 1.0, "axis": 1.2}[role]
    if state == "quiet":
        width = min(width, 1.3)
    pen = QPen(QColor(colours.get(state, plain)), width)
    if role == "layout" and state in ("loose", "quiet"):
        pen.setColor(QColor(look.scribe))
    if role == "axis":
        pen.setDashPattern(AXIS_DASH)
    elif state == "loose":
        pen.setDashPattern(LOOSE_DASH if role == "outline" else LOOSE_FINE)
    pen.setCosmetic(True)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    return pen


def thin(pen: QPen, painter: QPainter) -> QPen:
    """Return a pen for very many curves: one pixel wide, which Qt draws five times as fast.

    9,720 circles at 1.3 pixels take 130 ms, at one pixel 25 ms; Qt's raster engine strokes what is
    wider by filling outlines.
    """
    pen = QPen(pen)
    pen.setWidthF(min(pen.widthF(), 1.0 / painter.device().devicePixelRatioF()))
    return pen


def stroke(painter: QPainter, sheet: Sheet, group: Group) -> None:
    """Draw a group with the painter's pen; large curves by their visible piece alone."""
    if sheet.largest(group) * sheet.camera.scale > LARGE:
        for k in sheet.shown(group.rows):
            painter.drawPath(visible_path(group.curves[k], sheet.camera))
        return
    painter.save()
    painter.setWorldTransform(sheet.transform, True)
    painter.drawLines([group.lines[k] for k in sheet.shown(group.line_rows)])
    for k in sheet.shown(group.path_rows):
        painter.drawPath(group.paths[k])
    painter.restore()


def stroke_curve(painter: QPainter, sheet: Sheet, curve: Curve) -> None:
    """Draw one curve with the painter's pen."""
    stroke_curves(painter, sheet, (curve,))


def stroke_curves(painter: QPainter, sheet: Sheet, curves: Iterable[Curve]) -> None:
    """Draw curves with the painter's pen, large ones by their visible piece alone."""
    large = LARGE / sheet.camera.scale
    few: list[Curve] = []
    rest: list[Curve] = []
    for curve in curves:
        size = curve.length if isinstance(curve, Line) else curve.radius
        (few if size > large else rest).append(curve)
    for curve in few:
        painter.drawPath(visible_path(curve, sheet.camera))
    if rest:
        painter.save()
        painter.setWorldTransform(sheet.transform, True)
        for curve in rest:
            painter.drawPath(sheet.path(curve))
        painter.restore()


class CurveLayer(Layer):
    """One layer for some roles; the quiet images are drawn below the half."""

    def __init__(self, sheet: Sheet, height: float, roles: tuple[str, ...]) -> None:
        super().__init__(sheet, height)
        self.roles = roles

    def draw(self, painter: QPainter) -> None:
        """Paint highlights, then images, then the half by state."""
        sheet = self.sheet
        painter.setBrush(Qt.BrushStyle.NoBrush)
        self._highlights(painter)
        hidden = () if sheet.shows("layout") else ("layout",)
        for state in ("quiet", "bound", "loose", "clashing"):
            for role in self.roles:
                group = sheet.groups.get((role, state))
                if group is None or role in hidden:
                    continue
                pen = pen_for(sheet.look, role, state)
                painter.setPen(thin(pen, painter) if len(group.rows) > MANY else pen)
                stroke(painter, sheet, group)
                if state == "clashing":
                    self._bars(painter, group)

    def _highlights(self, painter: QPainter) -> None:
        sheet = self.sheet
        board = sheet.board
        for names, colour, width, alpha in (
            (board.hover, sheet.look.hover, 8.0, 200),
            ((*sheet.lit, *board.preview.lit), sheet.look.hover, 10.0, 190),
            (board.selection.ids, sheet.look.halo, 7.0, 170),
        ):
            shade = QColor(colour)
            shade.setAlpha(alpha)
            pen = QPen(shade, width)
            pen.setCosmetic(True)
            pen.setCapStyle(Qt.PenCapStyle.RoundCap)
            for name in names:
                curve = board.part.curves.get(name)
                if curve is not None and curve.role in self.roles:
                    values = sheet.by_source.get(name, [])
                    many = len(values) > MANY
                    painter.setPen(thin(pen, painter) if many else pen)
                    stroke_curves(painter, sheet, map(sheet.ringed, values) if many else values)

    def _bars(self, painter: QPainter, group: Group) -> None:
        """Bar a clashing curve with short strokes across, so that it tells without colour."""
        pen = QPen(QColor(self.sheet.look.clash), 2.0)
        painter.setPen(pen)
        camera = self.sheet.camera
        for k in self.sheet.shown(group.rows):
            curve = group.curves[k]
            for t in (0.25, 0.5, 0.75):
                x, y = camera.to_screen(point_at(curve, t))
                dx, dy = tangent_at(curve, t)
                nx, ny = dy * 5.0, dx * 5.0  # square to the line, y down on the screen
                for shift in (-2.0, 2.0):
                    a, b = x + dx * shift, y - dy * shift
                    painter.drawLine(QLineF(a - nx, b - ny, a + nx, b + ny))


def is_round(curve: Curve) -> bool:
    """Say whether a curve is an arc or a circle."""
    return isinstance(curve, Arc | Circle)
