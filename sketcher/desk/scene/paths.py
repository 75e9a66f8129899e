"""Curves as Qt paths: own cubics, never Qt's arcs, and only the visible piece at deep zoom."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, cos, hypot, pi, sin, tan, tau

from PySide6.QtCore import QLineF, QPointF
from PySide6.QtGui import QPainterPath

from sketcher.desk.scene.camera import Camera
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line

# One cubic for 15 degrees is off by 5.8e-9 of the radius; Qt's own arcs by 2.7e-4.
PIECE = pi / 12
# Past this many pixels of radius the flattening inside Qt shows; then only the visible piece goes.
LARGE = 5e3


def turning(curve: Arc | Circle) -> tuple[XY, float, float, float]:
    """Return center, radius, start angle and signed sweep of a round curve."""
    if isinstance(curve, Circle):
        return curve.center, curve.radius, 0.0, tau
    return curve.center, curve.radius, curve.start_angle, curve.sweep


def add_arc(path: QPainterPath, center: XY, radius: float, start: float, sweep: float) -> None:
    """Append an arc to `path` in cubics of at most 15 degrees; begins with a move."""
    count = max(1, ceil(abs(sweep) / PIECE - 1e-9))
    step = sweep / count
    reach = 4.0 / 3.0 * tan(step / 4.0) * radius
    x, y = center
    angle = start
    c, s = cos(angle), sin(angle)
    path.moveTo(x + radius * c, y + radius * s)
    for number in range(1, count + 1):
        angle = start + step * number
        c1, s1 = cos(angle), sin(angle)
        path.cubicTo(
            x + radius * c - reach * s, y + radius * s + reach * c,
            x + radius * c1 + reach * s1, y + radius * s1 - reach * c1,
            x + radius * c1, y + radius * s1,
        )
        c, s = c1, s1


def loop_path(curves: Iterable[Curve]) -> QPainterPath:
    """Return a closed run of curves as one closed path in part units."""
    path = QPainterPath()
    for curve in curves:
        path.connectPath(path_of(curve))
    path.closeSubpath()
    return path


def path_of(curve: Curve) -> QPainterPath:
    """Return a curve as a path in part units."""
    path = QPainterPath()
    if isinstance(curve, Line):
        path.moveTo(*curve.start)
        path.lineTo(*curve.end)
    else:
        add_arc(path, *turning(curve))
    return path


def is_large(curve: Curve, camera: Camera) -> bool:
    """Say whether a curve is so large on the screen that only its visible piece may be drawn."""
    size = curve.length if isinstance(curve, Line) else curve.radius
    return size * camera.scale > LARGE


def clipped_line(line: Line, window: tuple[float, float, float, float]) -> tuple[XY, XY] | None:
    """Return the piece of a line inside ``x0, y0, x1, y1`` (Liang and Barsky 1984), or None."""
    (x, y), (x_end, y_end) = line.start, line.end
    dx, dy = x_end - x, y_end - y
    low, high = 0.0, 1.0
    for slope, room in (
        (-dx, x - window[0]), (dx, window[2] - x), (-dy, y - window[1]), (dy, window[3] - y),
    ):
        if slope == 0.0:
            if room < 0.0:
                return None
            continue
        ratio = room / slope
        if slope < 0.0:
            low = max(low, ratio)
        else:
            high = min(high, ratio)
    if low > high:
        return None
    return (x + low * dx, y + low * dy), (x + high * dx, y + high * dy)


def visible_path(curve: Curve, camera: Camera) -> QPainterPath:
    """Return what of a large curve crosses the viewport, in pixels, exact to a small part of one.

    The piece is computed against the camera in pixels relative to the viewport, so that neither
    the cubics nor Qt's flattening ever see the huge radius.
    """
    path = QPainterPath()
    x0, y0, x1, y1 = camera.window
    margin = 40.0 / camera.scale
    window = (x0 - margin, y0 - margin, x1 + margin, y1 + margin)
    if isinstance(curve, Line):
        piece = clipped_line(curve, window)
        if piece is not None:
            path.moveTo(*camera.to_screen(piece[0]))
            path.lineTo(*camera.to_screen(piece[1]))
        return path
    center, radius, start, sweep = turning(curve)
    for first, span in _spans(center, radius, start, sweep, window):
        _add_chords(path, camera, center, radius, first, span)
    return path


def _spans(
    center: XY, radius: float, start: float, sweep: float,
    window: tuple[float, float, float, float],
) -> list[tuple[float, float]]:
    """Return the pieces (start angle, signed span) of an arc that may show in the window.

    Bisection on the sweep: a piece whose bounding circle misses the window is dropped.
    """
    mid = ((window[0] + window[2]) / 2, (window[1] + window[3]) / 2)
    reach = hypot(window[2] - window[0], window[3] - window[1]) / 2
    pieces = [(start, sweep)]
    small = max(reach / radius / 8, 1e-13)
    done: list[tuple[float, float]] = []
    while pieces:
        first, span = pieces.pop()
        at = first + span / 2
        far = hypot(center[0] + radius * cos(at) - mid[0], center[1] + radius * sin(at) - mid[1])
        half_chord = 2 * radius * sin(min(abs(span) / 4, pi / 2))
        if far - half_chord > reach:
            continue
        if abs(span) <= small:
            done.append((first, span))
        else:
            pieces += [(at, span / 2), (first, span / 2)]
    return done


def _add_chords(
    path: QPainterPath, camera: Camera, center: XY, radius: float, first: float, span: float
) -> None:
    """Append a small span as chords whose sagitta stays below a hundredth of a pixel."""
    pixels = radius * camera.scale
    count = max(1, ceil(abs(span) / (2.0 * (0.02 / pixels) ** 0.5)))
    points = [
        camera.to_screen((center[0] + radius * cos(a), center[1] + radius * sin(a)))
        for a in (first + span * n / count for n in range(count + 1))
    ]
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)


def line_of(line: Line) -> QLineF:
    """Return a line for ``drawLines``."""
    return QLineF(QPointF(*line.start), QPointF(*line.end))
