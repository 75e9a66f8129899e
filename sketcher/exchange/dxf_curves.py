"""Entities of a DXF become curves of the plane, in plain numbers.

World coordinates: entities that another program mirrored by turning their extrusion to -Z come out
where they really are.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise
from math import cos, hypot, isfinite, radians, sin, tau
from typing import Any, TypeAlias

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.spline import Spline, ellipse_spline

FLAT = 1e-6
"""What rises by no more than this part of its length is flat: a millionth is lost in writing."""
STRAIGHT = 1e-6
"""A bulge below this is a line: over a chord of 100 it stands off by 5e-5, and its radius would be
25 million."""
FRAME, BY_SPLINE = 16, 8  # bits of a vertex's flags (DXF reference, VERTEX)

Drawn: TypeAlias = Curve | Spline


class Unreadable(Exception):
    """An entity that makes no curve; its text says why."""


class Tilted(Exception):
    """An entity that does not lie level; its text says how."""


def curves_of(entity: Any, tell: Callable[[str], None]) -> list[Drawn]:
    """Return the curves of an entity; none of one that carries no edge.

    Parameters
    ----------
    entity : object
        Of the library.
    tell : callable
        Is told what was mended.

    Raises
    ------
    Unreadable
        When its numbers make no curve.
    Tilted
        When it does not lie level.
    """
    reader = _READERS.get(entity.dxftype())
    if reader is None:
        return []
    try:
        found = list(reader(entity, tell))
    except (ValueError, OverflowError, ZeroDivisionError) as error:
        raise Unreadable(str(error)) from None
    if not all(map(_finite, found)):
        raise Unreadable("a number is not finite")
    return found


def has_edges(kind: str) -> bool:
    """Whether entities of a type become curves."""
    return kind in _READERS


def arc_from_bulge(start: XY, end: XY, value: float) -> Arc:
    """Return the arc between two ends with a bulge other than zero."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    if value == 0.0 or dx == dy == 0.0:
        raise ValueError("a bulge of zero, or between equal ends, makes no arc")
    k = (1.0 - value) * (1.0 + value) / (4.0 * value)
    center = (start[0] + 0.5 * dx - k * dy, start[1] + 0.5 * dy + k * dx)
    return Arc(center, start, end, value > 0.0)


def _line(entity: Any, tell: Callable[[str], None]) -> Iterator[Drawn]:
    start, end = entity.dxf.start, entity.dxf.end
    yield from _chain([tuple(start), tuple(end)], False)


def _circle(entity: Any, tell: Callable[[str], None]) -> Iterator[Drawn]:
    flip, center = _flip(entity), entity.dxf.center
    yield Circle((flip * float(center.x), float(center.y)), _radius(entity))


def _arc(entity: Any, tell: Callable[[str], None]) -> Iterator[Drawn]:
    flip, center, radius = _flip(entity), entity.dxf.center, _radius(entity)
    first, last = float(entity.dxf.start_angle), float(entity.dxf.end_angle)
    middle = (flip * float(center.x), float(center.y))
    if first != last and abs(last - first) % 360.0 == 0.0:
        yield Circle(middle, radius)
        return
    ends = [(flip * (float(center.x) + radius * cos(a)), float(center.y) + radius * sin(a))
            for a in (radians(first), radians(last))]
    yield Arc(middle, ends[0], ends[1], flip > 0.0)


def _radius(entity: Any) -> float:
    radius = abs(float(entity.dxf.radius))
    if radius == 0.0:
        raise Unreadable("its radius is 0")
    return radius


def _lwpolyline(entity: Any, tell: Callable[[str], None]) -> Iterator[Drawn]:
    points = [(float(x), float(y), float(b)) for x, y, b in entity.get_points("xyb")]
    yield from _segments(points, entity.closed, _flip(entity), tell)


def _polyline(entity: Any, tell: Callable[[str], None]) -> Iterator[Drawn]:
    if entity.is_polygon_mesh or entity.is_poly_face_mesh:
        raise Unreadable("it is a mesh, no line")
    # Of a smoothed polyline the curve is drawn; its frame is how it was made.
    shown = [v for v in entity.vertices if not int(v.dxf.get("flags", 0)) & FRAME]
    if entity.is_3d_polyline:
        yield from _chain([tuple(v.dxf.location) for v in shown], entity.is_closed)
        return
    points = [(float(v.dxf.location.x), float(v.dxf.location.y), float(v.dxf.get("bulge", 0.0)))
              for v in shown]
    yield from _segments(points, entity.is_closed, _flip(entity), tell)


def _segments(
    points: list[tuple[float, float, float]], closed: bool, flip: float,
    tell: Callable[[str], None],
) -> Iterator[Drawn]:
    at: list[XY] = [(flip * x, y) for x, y, _ in points]
    last = len(points) if closed and len(points) > 1 else len(points) - 1
    for index in range(last):
        start, end = at[index], at[(index + 1) % len(at)]
        if start == end:
            continue
        bulge = flip * points[index][2]
        if abs(bulge) >= STRAIGHT:
            yield arc_from_bulge(start, end, bulge)
            continue
        if bulge:
            tell("a bulge too small for an arc was taken for a straight line")
        yield Line(start, end)


def _chain(points: list[tuple[float, ...]], closed: bool) -> Iterator[Drawn]:
    """Yield lines through points in space, which must lie level."""
    places = [tuple(map(float, point)) for point in points]
    heights = [place[2] for place in places]
    size = max(hypot(p[0] - places[0][0], p[1] - places[0][1]) for p in places)
    if max(heights) - min(heights) > FLAT * size:
        raise Tilted(f"it rises from z {min(heights):.6g} to z {max(heights):.6g}")
    flat = [(place[0], place[1]) for place in places]
    if closed and flat[0] != flat[-1]:
        flat.append(flat[0])
    for start, end in pairwise(flat):
        yield Line(start, end)


def _ellipse(entity: Any, tell: Callable[[str], None]) -> Iterator[Drawn]:
    """Ellipses lie in the world, not in the plane of their extrusion (DXF reference)."""
    flip = _flip(entity)
    center, axis, ratio = entity.dxf.center, entity.dxf.major_axis, float(entity.dxf.ratio)
    major = (float(axis.x), float(axis.y))
    if not hypot(*major) or not ratio:
        raise Unreadable("one of its axes has no length")
    if abs(float(axis.z)) > FLAT * hypot(*major):
        raise Tilted("its longer axis rises")
    minor = (-flip * ratio * major[1], flip * ratio * major[0])
    middle = (float(center.x), float(center.y))
    first, last = float(entity.dxf.start_param), float(entity.dxf.end_param)
    span = (last - first) % tau
    if span < 1e-9 or tau - span < 1e-9:  # written with nine decimals of 2 pi
        span = tau
    if abs(abs(ratio) - 1.0) > 1e-9:
        yield ellipse_spline(middle, major, minor, first, first + span)
        return
    if span == tau:
        yield Circle(middle, hypot(*major))
        return
    ends = [(middle[0] + cos(t) * major[0] + sin(t) * minor[0],
             middle[1] + cos(t) * major[1] + sin(t) * minor[1]) for t in (first, first + span)]
    yield Arc(middle, ends[0], ends[1], flip * ratio > 0.0)


def _spline(entity: Any, tell: Callable[[str], None]) -> Iterator[Drawn]:
    if entity.control_point_count() < 2 and entity.fit_point_count() < 2:
        raise Unreadable("it has too few points")
    tool = entity.construction_tool()
    points = [tuple(map(float, point)) for point in tool.control_points]
    heights = [point[2] for point in points]
    flat = tuple((point[0], point[1]) for point in points)
    size = max(hypot(p[0] - flat[0][0], p[1] - flat[0][1]) for p in flat)
    if max(heights) - min(heights) > FLAT * size:
        raise Tilted(f"it rises from z {min(heights):.6g} to z {max(heights):.6g}")
    weights = tuple(float(weight) for weight in tool.weights())
    yield Spline(int(tool.degree), tuple(float(knot) for knot in tool.knots()), flat,
                 weights if len(set(weights)) > 1 else ())


def _flip(entity: Any) -> float:
    """-1 where the entity's plane looks down; other tilts are not level.

    With the extrusion (0, 0, -1) the entity's x runs against the world's (DXF reference, arbitrary
    axis algorithm).
    """
    x, y, z = map(float, entity.dxf.get("extrusion", (0.0, 0.0, 1.0)))
    if abs(x) > FLAT * abs(z) or abs(y) > FLAT * abs(z) or z == 0.0:
        raise Tilted(f"its plane looks towards ({x:.4g}, {y:.4g}, {z:.4g})")
    return 1.0 if z > 0.0 else -1.0


def _finite(curve: Drawn) -> bool:
    if isinstance(curve, Spline):
        return True  # has looked itself
    if isinstance(curve, Circle):
        return all(map(isfinite, (*curve.center, curve.radius)))
    places = (*curve.start, *curve.end, *(curve.center if isinstance(curve, Arc) else ()))
    return all(map(isfinite, places)) and (isinstance(curve, Line) or curve.radius > 0.0)


_READERS: dict[str, Callable[[Any, Callable[[str], None]], Iterator[Drawn]]] = {
    "LINE": _line, "CIRCLE": _circle, "ARC": _arc, "LWPOLYLINE": _lwpolyline,
    "POLYLINE": _polyline, "ELLIPSE": _ellipse, "SPLINE": _spline}
