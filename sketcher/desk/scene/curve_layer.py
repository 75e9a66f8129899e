"""The curves: outline, layout and axis, each state with its own line style before its colour."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from sketcher.desk.looks import Look
from sketcher.desk.scene.layer import Layer
from sketcher.desk.scene.paths import FINE, LARGE, box_of, path_of, visible_path
from sketcher.desk.scene.pens import pen_on, thin
from sketcher.desk.scene.scene_state import HALO, MANY, Group, SceneState
from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import point_at, tangent_at
from sketcher.part.image_id import read_image_id

# Dash patterns in widths of the pen: loose is long-dashed, the axis long-short-long.
LOOSE_DASH = [7.0, 3.5]
AXIS_DASH = [14.0, 3.0, 3.0, 3.0]
LOOSE_FINE = [9.0, 5.0]


def pen_for(painter: QPainter, look: Look, role: str, state: str) -> QPen:
    """Return the pen of a role and a state, widths in logical pixels."""
    colours = {"loose": look.loose, "clashing": look.clash, "quiet": look.quiet}
    colour = {"outline": look.ink, "layout": look.scribe, "axis": look.axis}[role]
    if role != "layout" or state not in ("loose", "quiet"):
        colour = colours.get(state, colour)
    width = {"outline": 2.2, "layout": 1.0, "axis": 1.2}[role]
    if state == "quiet":
        width = min(width, 1.3)
    dashes: list[float] = []
    if role == "axis":
        dashes = AXIS_DASH
    elif state == "loose":
        dashes = LOOSE_DASH if role == "outline" else LOOSE_FINE
    return pen_on(painter, colour, width, dashes)


def stroke(painter: QPainter, sheet: SceneState, group: Group) -> None:
    """Draw a group with the painter's pen; large curves by their visible piece alone."""
    if sheet.largest(group) * sheet.camera.scale > LARGE:
        for k in sheet.shown(group.rows):
            painter.drawPath(visible_path(group.curves[k], sheet.camera))
        return
    painter.save()
    painter.setWorldTransform(sheet.transform, True)
    painter.drawLines([group.lines[k] for k in sheet.shown(group.line_rows)])
    draw_box = painter.drawEllipse
    if sheet.largest(group) * sheet.camera.scale <= FINE:
        for k in sheet.shown(group.circle_rows):
            draw_box(group.circles[k])
    else:
        _stroke_circles(painter, sheet, group)
    for k in sheet.shown(group.path_rows):
        painter.drawPath(group.paths[k])
    painter.restore()


def _stroke_circles(painter: QPainter, sheet: SceneState, group: Group) -> None:
    """Draw the circles of a group of which some are large."""
    fine = 2.0 * FINE / sheet.camera.scale
    for k in sheet.shown(group.circle_rows):
        box = group.circles[k]
        if box.width() <= fine:
            painter.drawEllipse(box)
        else:
            middle = box.center()
            painter.drawPath(path_of(Circle((middle.x(), middle.y()), 0.5 * box.width())))


def stroke_rings(painter: QPainter, sheet: SceneState, curves: Iterable[Curve]) -> None:
    """Draw a ring some pixels around each circle in view, and the other curves as they are."""
    grow, fine = HALO / sheet.camera.scale, FINE / sheet.camera.scale
    x0, y0, x1, y1 = sheet.camera.window
    rest: list[Curve] = []
    painter.save()
    painter.setWorldTransform(sheet.transform, True)
    ring = painter.drawEllipse
    for curve in curves:
        if not isinstance(curve, Circle) or curve.radius > fine:
            rest.append(curve)
            continue
        (x, y), r = curve.center, curve.radius + grow
        if x0 <= x + r and x - r <= x1 and y0 <= y + r and y - r <= y1:
            ring(QRectF(x - r, y - r, 2.0 * r, 2.0 * r))
    painter.restore()
    stroke_curves(painter, sheet, rest)


def stroke_curve(painter: QPainter, sheet: SceneState, curve: Curve) -> None:
    """Draw one curve with the painter's pen."""
    stroke_curves(painter, sheet, (curve,))


def stroke_curves(painter: QPainter, sheet: SceneState, curves: Iterable[Curve]) -> None:
    """Draw curves with the painter's pen, large ones by their visible piece alone."""
    large, fine = LARGE / sheet.camera.scale, FINE / sheet.camera.scale
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
            if isinstance(curve, Circle) and curve.radius <= fine:
                painter.drawEllipse(box_of(curve))
            else:
                painter.drawPath(sheet.path(curve))
        painter.restore()


class CurveLayer(Layer):
    """One layer for some roles; the quiet images are drawn below the half."""

    def __init__(self, sheet: SceneState, height: float, roles: tuple[str, ...]) -> None:
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
                pen = pen_for(painter, sheet.look, role, state)
                painter.setPen(thin(pen) if len(group.rows) > MANY else pen)
                stroke(painter, sheet, group)
                if state == "clashing":
                    self._bars(painter, group)

    def _highlights(self, painter: QPainter) -> None:
        sheet = self.sheet
        board = sheet.board
        shades = (
            (board.bench.hover, sheet.look.hover, 8.0),
            ((*sheet.lit, *board.preview.lit), sheet.look.hover, 10.0),
            (board.bench.selection.ids, sheet.look.halo, 7.0),
        )
        last = {name: row for row, (names, *_) in enumerate(shades) for name in names}
        for row, (names, colour, width) in enumerate(shades):
            pen = pen_on(painter, colour, width, cap=Qt.PenCapStyle.RoundCap)
            for name in names:
                curve = board.part.curves.get(read_image_id(name).source)
                if curve is None or curve.role not in self.roles:
                    continue
                values = sheet.curves_of(name)
                if len(values) <= MANY:
                    painter.setPen(pen)
                    stroke_curves(painter, sheet, values)
                elif row == last[name]:  # a ring covers the one below it
                    painter.setPen(thin(pen))
                    stroke_rings(painter, sheet, values)

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
