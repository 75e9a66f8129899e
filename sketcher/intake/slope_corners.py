"""Corners that were rounded off, as layout points where the two edges would meet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sketcher.geometry.curves import XY, Arc
from sketcher.intake.half_sketch import HalfSketch
from sketcher.intake.sketch_conditions import Condition
from sketcher.intake.sketch_datum import Datum, ends_at, level, long, plumb
from sketcher.part.value import ArcCurve, LineCurve, Part
from sketcher.part.whole import curve_value

FLATTEST = 0.05
"""Sine of the angle between two edges below which their corner lies too far away to be used."""


def with_datum(sketch: HalfSketch, datum: Datum) -> tuple[HalfSketch, Datum, list[Condition]]:
    """Return the half with its datum as a point, and what puts it on its two edges."""
    if datum.point is not None:
        return sketch, datum, []
    assert datum.lines is not None
    part, name = _with_point(sketch.part, datum.at)
    return (replace(sketch, part=part), replace(datum, point=name),
            [("on", (name, line)) for line in datum.lines])


def with_lost_corners(sketch: HalfSketch) -> tuple[HalfSketch, list[Condition]]:
    """Return the half with the corners of its slopes, and what puts each on its two edges.

    Corners of level and plumb edges need no point: the edges themselves are measured.
    """
    part, said = sketch.part, list[Condition]()
    for one, other, at in _corners(sketch):
        part, name = _with_point(part, at)
        said += [("on", (name, one)), ("on", (name, other))]
    return replace(sketch, part=part), said


def _with_point(part: Part, at: XY) -> tuple[Part, str]:
    number = 1
    while f"q{number}" in part.points:
        number += 1
    return part.having(points={**part.points, f"q{number}": at}), f"q{number}"


def _corners(sketch: HalfSketch) -> Iterator[tuple[str, str, XY]]:
    part, near = sketch.part, sketch.near
    at: dict[str, list[str]] = {}
    for name, curve in part.curves.items():
        if isinstance(curve, LineCurve) and curve.role == "outline":
            for end in curve.ends:
                at.setdefault(end, []).append(name)
    for curve in part.curves.values():
        if not isinstance(curve, ArcCurve) or curve.role != "outline":
            continue
        here, there = (at.get(end, []) for end in curve.ends)
        if len(here) != 1 or len(there) != 1 or here == there:
            continue
        lines = (here[0], there[0])
        if all(level(part, line, near) or plumb(part, line, near) for line in lines):
            continue
        value = curve_value(part, curve)
        if min(long(part, line) for line in lines) <= 50.0 * sketch.noise:
            continue
        corner = _met(part, *lines)
        assert isinstance(value, Arc)
        if corner is not None and abs(value.sweep) < 2.8:
            yield (*lines, corner)


def _met(part: Part, one: str, other: str) -> XY | None:
    (ax, ay), (bx, by) = ends_at(part, one)
    (cx, cy), (dx, dy) = ends_at(part, other)
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    cross = ux * vy - uy * vx
    if abs(cross) <= FLATTEST * long(part, one) * long(part, other):
        return None
    t = ((cx - ax) * vy - (cy - ay) * vx) / cross
    return (ax + t * ux, ay + t * uy)
