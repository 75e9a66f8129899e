"""Outlines of parts turned, moved and blurred, as somebody else's file has them."""

from __future__ import annotations

import random
from collections.abc import Sequence
from math import cos, radians, sin
from pathlib import Path

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.intake.linework import Shape
from sketcher.intake.nesting import shapes
from sketcher.intake.wishes import Wishes
from sketcher.part.store import load
from sketcher.part.whole import whole
from sketcher.solve import solve
from tests.drawn import drawn


def outline_of(path: Path) -> list[Curve]:
    """Return the whole outline of a part's file, solved."""
    return [piece.curve for piece in whole(solve(load(path)).part) if piece.role == "outline"]


def turned(
    curves: Sequence[Curve], degrees: float, dx: float = 0.0, dy: float = 0.0
) -> list[Curve]:
    """Return curves turned about (0, 0), then moved."""
    c, s = cos(radians(degrees)), sin(radians(degrees))

    def at(p: XY) -> XY:
        return (c * p[0] - s * p[1] + dx, s * p[0] + c * p[1] + dy)

    return [Line(at(curve.start), at(curve.end)) if isinstance(curve, Line)
            else Circle(at(curve.center), curve.radius) if isinstance(curve, Circle)
            else Arc(at(curve.center), at(curve.start), at(curve.end), curve.ccw)
            for curve in curves]


def blurred(curves: Sequence[Curve], noise: float, seed: int) -> list[Curve]:
    """Return curves with each place off by at most `noise` in x and in y, evenly, and each radius.

    Ends that meet stay together; an arc goes through its ends and a middle that is off as well.
    """
    rng = random.Random(seed)
    moved: dict[tuple[float, float], XY] = {}

    def at(p: XY) -> XY:
        key = (round(p[0], 6), round(p[1], 6))
        if key not in moved:
            moved[key] = (p[0] + rng.uniform(-noise, noise), p[1] + rng.uniform(-noise, noise))
        return moved[key]

    def one(curve: Curve) -> Curve:
        if isinstance(curve, Line):
            return Line(at(curve.start), at(curve.end))
        if isinstance(curve, Circle):
            return Circle(at(curve.center), curve.radius + rng.uniform(-noise, noise))
        angle = curve.start_angle + 0.5 * curve.sweep
        radius = curve.radius + rng.uniform(-noise, noise)
        middle = (curve.center[0] + radius * cos(angle), curve.center[1] + radius * sin(angle))
        start, end = at(curve.start), at(curve.end)
        return Arc(_equally_far(start, middle, end), start, end, curve.ccw)

    return [one(curve) for curve in curves]


def _equally_far(a: XY, b: XY, c: XY) -> XY:
    """Return the center of the circle through three places."""
    bx, by, cx, cy = b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]
    d = 2.0 * (bx * cy - by * cx)
    bb, cc = bx * bx + by * by, cx * cx + cy * cy
    return (a[0] + (cy * bb - by * cc) / d, a[1] + (bx * cc - cx * bb) / d)


def one_shape(curves: Sequence[Curve], noise: float = 0.0, quantum: float = 0.0) -> Shape:
    """Return the only part of a drawing."""
    (shape,) = shapes(drawn(*curves, quantum=quantum, noise=noise), Wishes())
    return shape
