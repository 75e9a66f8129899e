"""Wedges in which an angle may be drawn, and the direction in which a length is read."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import acos, degrees

from sketcher.drafting.measured.paper_measures import Wedge
from sketcher.geometry.curves import XY, Line
from sketcher.geometry.meet import meet


def upright(way: XY) -> XY:
    """Turn a direction so that text along it is read from below or from the right."""
    x, y = way
    if x < -1e-9 or (abs(x) <= 1e-9 and y < 0.0):
        x, y = -x, -y
    return (x, y)


def opening(wedge: Wedge) -> float:
    """Return the angle of a wedge in degrees."""
    (ax, ay), (bx, by) = wedge.rays
    return degrees(acos(max(-1.0, min(1.0, ax * bx + ay * by))))


def against_level(line: Line, drawn: bool) -> Iterator[Wedge]:
    """Wedges at both ends of a line; a layout line is not drawn and covers only its far end."""
    for start, end in ((line.start, line.end), (line.end, line.start)):
        ray = Line(start, end)
        for level in ((1.0, 0.0), (-1.0, 0.0)):
            covered = (0.0 if drawn else ray.length, ray.length)
            yield Wedge(start, (level, ray.direction), ((0.0, 0.0), covered), slides=True)


def between_lines(one: Line, other: Line) -> Iterator[Wedge]:
    """Give the wedges between two lines; where both are drawn first."""
    crossing = meet(one, other, bounded=False)
    if not crossing:
        return
    vertex = crossing[0].point
    options = []
    for first, second in combinations([*_rays(vertex, one), *_rays(vertex, other)], 2):
        if first[2] != second[2]:
            options.append((first[3] + second[3],
                            Wedge(vertex, (first[0], second[0]), (first[1], second[1]))))
    yield from (wedge for _, wedge in sorted(options, key=lambda o: o[0]))


def _rays(vertex: XY, line: Line) -> Iterator[tuple[XY, tuple[float, float], int, float]]:
    """Both rays along a line, the piece drawn on each, and 0 for the one with the line on it."""
    for sign in (1.0, -1.0):
        dx, dy = sign * line.direction[0], sign * line.direction[1]
        at = sorted((p[0] - vertex[0]) * dx + (p[1] - vertex[1]) * dy
                    for p in (line.start, line.end))
        span = (max(at[0], 0.0), max(at[1], 0.0))
        yield ((dx, dy), span, id(line), 0.0 if at[0] + at[1] > 0.0 else 1.0)
