"""Curves as Qt paths: own cubics, never Qt's arcs, and only the visible piece at deep zoom."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from math import ceil, cos, dist, hypot, pi, sin, tau

from PySide6.QtCore import QLineF, QPointF, QRectF
from PySide6.QtGui import QPainterPath, QTransform

from sketcher.desk.scene.camera import Camera
from sketcher.geometry.clip import visible
from sketcher.geometry.cubic import cubics
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import end_of, start_of

# Past this many pixels of radius the flattening inside Qt shows; then only the visible piece goes.
LARGE = 5e3
FINE = 150.0
"""Pixels of radius up to which Qt draws a circle itself, in a tenth of the time.

It is off by 2.7e-4 of the radius, which is a twenty-fifth of a pixel here.
"""


def turning(curve: Arc | Circle) -> tuple[XY, float, float, float]:
    """Return center, radius, start angle and signed sweep of a round curve."""
    if isinstance(curve, Circle):
        return curve.center, curve.radius, 0.0, tau
    return curve.center, curve.radius, curve.start_angle, curve.sweep


def loop_path(curves: Iterable[Curve]) -> QPainterPath:
    """Return a closed run of curves as one closed path in part units."""
    path = QPainterPath()
    for curve in curves:
        path.connectPath(path_of(curve))
    path.closeSubpath()
    return path


def path_of(curve: Curve) -> QPainterPath:
    """Return a curve as a path in part units."""
    if isinstance(curve, Line):
        path = QPainterPath(QPointF(*curve.start))
        path.lineTo(*curve.end)
        return path
    (x, y), radius, start, sweep = turning(curve)
    along, up = radius * cos(start), radius * sin(start)
    # A pattern has thousands of one sweep; the last digits of it do not show.
    return QTransform(along, up, -up, along, x, y).map(_unit_arc(round(sweep, 14)))


@lru_cache(maxsize=1024)
def _unit_arc(sweep: float) -> QPainterPath:
    """Return the arc of a signed sweep about the origin that starts at (1, 0)."""
    ends = (1.0, 0.0), (cos(sweep), sin(sweep))
    whole = abs(sweep) >= 6.283185307179
    pieces = cubics(Circle((0.0, 0.0), 1.0) if whole
                    else Arc((0.0, 0.0), *ends, sweep > 0.0)).tolist()
    path = QPainterPath(QPointF(*pieces[0][0]))
    for _, one, other, end in pieces:
        path.cubicTo(*one, *other, *end)
    return path


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
        for piece in visible(curve, window):
            path.moveTo(*camera.to_screen(start_of(piece)))
            path.lineTo(*camera.to_screen(end_of(piece)))
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
        far = dist((center[0] + radius * cos(at), center[1] + radius * sin(at)), mid)
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


def box_of(circle: Circle) -> QRectF:
    """Return the square around a circle for ``drawEllipse``."""
    (x, y), r = circle.center, circle.radius
    return QRectF(x - r, y - r, 2.0 * r, 2.0 * r)
