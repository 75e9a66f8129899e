"""Axes and centers of patterns are told where the bound part has them."""

from __future__ import annotations

from math import dist, hypot, pi

import pytest

from sketcher.exchange.dxf_content import DxfContent, FileCurve
from sketcher.geometry.curves import XY, Circle, Line
from sketcher.intake.take_in import take_in


def plate(far: XY) -> DxfContent:
    """A ring plate with five holes on a circle, far from the origin, beside an oblong."""
    from math import cos, sin

    x, y = far
    curves = [Circle((x, y), 40.0), *(Circle((x + 25.0 * cos(0.4 * pi * n + 0.5 * pi),
                                              y + 25.0 * sin(0.4 * pi * n + 0.5 * pi)), 4.0)
                                      for n in range(5))]
    corners = [(x + 100.0, y), (x + 130.0, y), (x + 130.0, y + 20.0), (x + 100.0, y + 20.0)]
    curves += [Line(p, q) for p, q in zip(corners, [*corners[1:], corners[0]], strict=True)]
    return DxfContent("far", tuple(FileCurve(c, n) for n, c in enumerate(curves, 1)), "mm")


@pytest.mark.parametrize("far", [(0.0, 0.0), (1000.0, -400.0)])
def test_what_is_told_lies_where_the_part_has_it(far: XY) -> None:
    ring, oblong = take_in(plate(far)).parts
    (pattern,) = ring.patterns
    assert pattern.center is not None
    hole = next(c for c in ring.part.curves.values() if c.kind == "circle" and c.radius < 5.0)
    assert dist(pattern.center, ring.part.points[hole.center]) == pytest.approx(25.0)
    for part in (ring, oblong):
        xs, ys = zip(*part.part.points.values(), strict=True)
        reach = hypot(max(xs) - min(xs), max(ys) - min(ys)) + 50.0
        for axis in part.axes:
            assert hypot(*axis.start) < reach
            line = part.part.curves["ax" if len(part.axes) == 1 else axis.id]
            for end in line.ends:
                (ax, ay), (bx, by), (px, py) = axis.start, axis.end, part.part.points[end]
                off = (bx - ax) * (py - ay) - (by - ay) * (px - ax)
                assert abs(off) / dist(axis.start, axis.end) < 1e-6
