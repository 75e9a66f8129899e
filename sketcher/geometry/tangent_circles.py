"""Circles that touch: of a given radius two things, or three things of any kind.

What is touched is a line (unbounded), a circle (an arc stands for its circle) or a point. Each
solution says on which side it touches: ``"left"`` or ``"right"`` of a line's travel; ``"outside"``
a circle, ``"inside"`` it, or ``"around"`` it; ``"on"`` a point.
"""

from __future__ import annotations

from itertools import product
from math import dist, hypot, sqrt
from typing import TYPE_CHECKING, Literal, NamedTuple, TypeAlias

import numpy as np

from sketcher.errors import GeometryError
from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.geometry.evaluate import moved, scaled
from sketcher.geometry.meet import meet
from sketcher.geometry.vectors import normalized

if TYPE_CHECKING:
    from numpy.typing import NDArray

Touched: TypeAlias = Curve | XY
Side: TypeAlias = Literal["left", "right", "outside", "inside", "around", "on"]

_SAME = 1e-9
"""Solutions nearer than this part of the size are one (a double root splits by the square root
of the rounding, 1e-8, before it is polished)."""


class TouchCircle(NamedTuple):
    """A circle, its places of contact and its sides, in the order of what it touches."""

    circle: Circle
    touches: tuple[XY, ...]
    sides: tuple[Side, ...]


def circles_of_radius(a: Touched, b: Touched, radius: float) -> tuple[TouchCircle, ...]:
    """Return every circle of a radius that touches both `a` and `b`.

    Parameters
    ----------
    a, b : Line, Circle, Arc or (float, float)
        Lines are unbounded, an arc stands for its circle; in one unit.
    radius : float
        In that unit.

    Returns
    -------
    tuple of TouchCircle
        Empty where none fits.

    Raises
    ------
    GeometryError
        When the radius is not above zero.
    """
    if not radius > 0.0:
        raise GeometryError("radius", f"{radius:g} is not above zero", "give a positive radius")
    found: list[TouchCircle] = []
    for (locus_a, side_a), (locus_b, side_b) in product(_loci(a, radius), _loci(b, radius)):
        for center in _common(locus_a, locus_b):
            sides = (side_a, side_b)
            circle = Circle(center, radius)
            touches = tuple(contact(circle, t, s) for t, s in zip((a, b), sides, strict=True))
            if not any(_same(circle, f.circle, radius) for f in found):
                found.append(TouchCircle(circle, touches, sides))
    return tuple(found)


def circles_touching(a: Touched, b: Touched, c: Touched) -> tuple[TouchCircle, ...]:
    """Return every circle that touches all three: up to eight (the problem of Apollonius).

    The given circles themselves are no solutions. Three things that let infinitely many circles
    through (three parallel lines, concentric circles) give none.

    Parameters
    ----------
    a, b, c : Line, Circle, Arc or (float, float)
        Lines are unbounded, an arc stands for its circle; in one unit.

    Returns
    -------
    tuple of TouchCircle
        None twice.

    Notes
    -----
    Written with w = x^2 + y^2 - r^2, touching is linear in (x, y, r, w) for each choice of sides;
    the line of solutions meets the quadric in at most two. Each is polished by Newton's method.
    """
    given = (a, b, c)
    x0, y0, size = _frame(given)
    local = [_local(t, x0, y0, size) for t in given]
    found: list[TouchCircle] = []
    rings = [t for t in local if isinstance(t, Circle)]
    for signs in product(*((1.0,) if isinstance(t, tuple) else (1.0, -1.0) for t in local)):
        rows = [_row(t, s) for t, s in zip(local, signs, strict=True)]
        for x, y, r in _on_quadric(np.array([row[:4] for row in rows]), [row[4] for row in rows]):
            x, y, r = _polished(local, signs, x, y, r)
            circle = Circle((x, y), r)
            if r <= _SAME or any(_same(circle, ring, 1.0) for ring in rings):
                continue
            circle = Circle((x0 + size * x, y0 + size * y), size * r)
            if any(_same(circle, f.circle, size) for f in found):
                continue
            sides = tuple(_side(t, s, r) for t, s in zip(local, signs, strict=True))
            touches = tuple(contact(circle, t, s) for t, s in zip(given, sides, strict=True))
            found.append(TouchCircle(circle, touches, sides))
    return tuple(found)


def contact(circle: Circle, touched: Touched, side: Side) -> XY:
    """Return the place where `circle` touches a line, circle or point on the given side.

    Parameters
    ----------
    circle : Circle
    touched : Line, Circle, Arc or (float, float)
        In the circle's unit.
    side : str
        As a solution says it; only ``around`` makes a difference, for rounds.

    Returns
    -------
    (float, float)
        In that unit; of a point the point itself.

    Raises
    ------
    GeometryError
        When both are rounds about one center.
    """
    x, y = circle.center
    if isinstance(touched, tuple):
        return touched
    if isinstance(touched, Line):
        ux, uy = touched.direction
        d = (y - touched.start[1]) * ux - (x - touched.start[0]) * uy
        return (x + d * uy, y - d * ux)
    dx, dy = x - touched.center[0], y - touched.center[1]
    apart = hypot(dx, dy)
    if apart == 0.0:
        raise GeometryError("circles", "are concentric and touch nowhere")
    k = (-1.0 if side == "around" else 1.0) * touched.radius / apart
    return (touched.center[0] + k * dx, touched.center[1] + k * dy)


def _loci(touched: Touched, radius: float) -> list[tuple[Curve, Side]]:
    """Where the center may be: lines and circles at the radius from what is touched."""
    if isinstance(touched, tuple):
        return [(Circle(touched, radius), "on")]
    if isinstance(touched, Line):
        ux, uy = touched.direction
        dx, dy = -radius * uy, radius * ux
        return [(moved(touched, dx, dy), "left"), (moved(touched, -dx, -dy), "right")]
    r = touched.radius
    loci: list[tuple[Curve, Side]] = [(Circle(touched.center, r + radius), "outside")]
    if r != radius:
        loci.append((Circle(touched.center, abs(r - radius)), "inside" if r > radius else "around"))
    return loci


def _common(a: Curve, b: Curve) -> list[XY]:
    return [m.point for m in meet(a, b, bounded=False)]


def _same(a: Circle, b: Circle, size: float) -> bool:
    apart = dist(a.center, b.center)
    return apart + abs(a.radius - b.radius) <= _SAME * max(size, a.radius)


def _frame(given: tuple[Touched, ...]) -> tuple[float, float, float]:
    """Middle and size of what is given, so that the equations are of order one."""
    points: list[XY] = []
    for t in given:
        if isinstance(t, tuple):
            points.append(t)
        elif isinstance(t, Line):
            points += [t.start, t.end]
        else:
            (x, y), r = t.center, t.radius
            points += [(x - r, y - r), (x + r, y + r)]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    size = max(max(xs) - min(xs), max(ys) - min(ys)) or 1.0
    return 0.5 * (min(xs) + max(xs)), 0.5 * (min(ys) + max(ys)), size


def _local(t: Touched, x: float, y: float, size: float) -> Circle | Line | XY:
    if isinstance(t, tuple):
        return ((t[0] - x) / size, (t[1] - y) / size)
    if isinstance(t, Line):
        return scaled(moved(t, -x, -y), 1.0 / size)
    return scaled(moved(Circle(t.center, t.radius), -x, -y), 1.0 / size)


def _row(t: Circle | Line | XY, sign: float) -> tuple[float, float, float, float, float]:
    """Coefficients of x, y, r, w and the right side of one condition."""
    if isinstance(t, Line):
        ux, uy = t.direction
        return (-uy, ux, -sign, 0.0, t.start[1] * ux - t.start[0] * uy)
    (x, y), r = (t.center, t.radius) if isinstance(t, Circle) else (t, 0.0)
    return (2.0 * x, 2.0 * y, 2.0 * sign * r, -1.0, x * x + y * y - r * r)


def _on_quadric(
    matrix: NDArray[np.float64], right: list[float]
) -> list[tuple[float, float, float]]:
    """Solutions (x, y, r) of the three linear conditions with w = x^2 + y^2 - r^2, r > 0."""
    u, s, vt = np.linalg.svd(matrix)
    if s[2] <= 1e-12 * s[0]:
        return []
    p = vt[:3].T @ ((u.T @ np.asarray(right)) / s)
    n = vt[3]
    a = n[0] * n[0] + n[1] * n[1] - n[2] * n[2]
    b = 2.0 * (p[0] * n[0] + p[1] * n[1] - p[2] * n[2]) - n[3]
    c = p[0] * p[0] + p[1] * p[1] - p[2] * p[2] - p[3]
    return [(p[0] + k * n[0], p[1] + k * n[1], p[2] + k * n[2]) for k in _roots(a, b, c)]


def _roots(a: float, b: float, c: float) -> list[float]:
    """Real roots; a discriminant that is negative by rounding counts as zero."""
    if abs(a) <= 1e-13 * max(abs(b), abs(c)):
        return [-c / b] if b else []
    square = b * b - 4.0 * a * c
    if square < -1e-12 * (b * b + abs(4.0 * a * c)):
        return []
    half = -0.5 * (b + (sqrt(max(0.0, square)) if b >= 0.0 else -sqrt(max(0.0, square))))
    return [half / a, c / half] if half else [0.0]


def _polished(
    given: list[Circle | Line | XY], signs: tuple[float, ...], x: float, y: float, r: float
) -> tuple[float, float, float]:
    """Take up to four Newton steps on the three distances while they lower the residual."""
    before = _residuals(given, signs, x, y, r)
    for _ in range(4):
        rows = []
        for t, s in zip(given, signs, strict=True):
            if isinstance(t, Line):
                ux, uy = t.direction
                rows.append((-uy, ux, -s))
                continue
            cx, cy = t.center if isinstance(t, Circle) else t
            ux, uy = normalized((x - cx, y - cy))
            sense = 1.0 if r + s * (t.radius if isinstance(t, Circle) else 0.0) >= 0.0 else -1.0
            rows.append((ux, uy, -sense))
        step = np.linalg.lstsq(np.array(rows), -np.array(before), rcond=1e-12)[0]
        trial = (x + float(step[0]), y + float(step[1]), r + float(step[2]))
        after = _residuals(given, signs, *trial)
        if max(map(abs, after)) >= max(map(abs, before)):
            break
        (x, y, r), before = trial, after
    return float(x), float(y), float(r)


def _residuals(
    given: list[Circle | Line | XY], signs: tuple[float, ...], x: float, y: float, r: float
) -> list[float]:
    out = []
    for t, s in zip(given, signs, strict=True):
        if isinstance(t, Line):
            ux, uy = t.direction
            out.append((y - t.start[1]) * ux - (x - t.start[0]) * uy - s * r)
        else:
            center, radius = (t.center, t.radius) if isinstance(t, Circle) else (t, 0.0)
            out.append(dist((x, y), center) - abs(r + s * radius))
    return out


def _side(t: Circle | Line | XY, sign: float, r: float) -> Side:
    if isinstance(t, tuple):
        return "on"
    if isinstance(t, Line):
        return "left" if sign > 0.0 else "right"
    if sign > 0.0:
        return "outside"
    return "inside" if r < t.radius else "around"
