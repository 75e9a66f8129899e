"""Which motions carry a shape onto itself: its own mirrors and patterns, tried by shapely."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, cos, pi, sin

import shapely
from shapely import affinity

from tests.damage.original import Original
from tests.damage.strokes import At, places

MOST_APART = 1e-5  # of the area: what the design of the import allows a line of symmetry

FINE = 1e-8
"""Chords of a shape that is reflected, as a share of its perimeter: their own area stays far below
`MOST_APART`, though an image's chords begin elsewhere."""


@dataclass(frozen=True)
class Motion:
    """``x -> M x + shift`` with M = (a, b, c, d) by rows."""

    matrix: tuple[float, float, float, float] = (1.0, 0.0, 0.0, 1.0)
    shift: At = (0.0, 0.0)

    def __call__(self, at: At) -> At:
        a, b, c, d = self.matrix
        return a * at[0] + b * at[1] + self.shift[0], c * at[0] + d * at[1] + self.shift[1]

    def after(self, other: Motion) -> Motion:
        """First the other one, then this one."""
        a, b, c, d = self.matrix
        p, q, r, s = other.matrix
        return Motion((a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s),
                      self(other.shift))


def reflection(a: At, b: At) -> Motion:
    """In the line through two places."""
    twice = 2.0 * atan2(b[1] - a[1], b[0] - a[0])
    c, s = cos(twice), sin(twice)
    return Motion((c, s, s, -c), (a[0] - c * a[0] - s * a[1], a[1] - s * a[0] + c * a[1]))


def rotation(degrees: float, center: At = (0.0, 0.0)) -> Motion:
    """About a place."""
    c, s = cos(degrees * pi / 180.0), sin(degrees * pi / 180.0)
    x, y = center
    return Motion((c, -s, s, c), (x - c * x + s * y, y - s * x - c * y))


def region(loops: Sequence[Sequence[object]], reach: float) -> shapely.Polygon:
    """A shape with its holes, in chords within `reach`."""
    rings = [[at for stroke in loop for at in places(stroke, reach)[:-1]]  # type: ignore[arg-type]
             for loop in loops]
    return shapely.Polygon(rings[0], rings[1:])


def apart(shape: shapely.Polygon, motion: Motion) -> float:
    """Share of its area by which a shape and its image differ."""
    a, b, c, d = motion.matrix
    image = affinity.affine_transform(shape, (a, b, c, d, *motion.shift))
    return float(shape.symmetric_difference(image).area / shape.area)


def mirrors(origin: Original) -> list[tuple[At, At]]:
    """The part's axes that reflect all of its outline: two places on each."""
    shape = region(origin.loops, FINE * origin.perimeter)
    found = []
    for mirror in origin.part.mirrors:
        curve = origin.part.curves[mirror.axis]
        a, b = (origin.part.points[end] for end in curve.ends)  # type: ignore[union-attr]
        if apart(shape, reflection(a, b)) < MOST_APART:
            found.append((a, b))
    return found


def group(origin: Original) -> list[Motion]:
    """The identity, the reflections of the part, and their products."""
    found = [Motion()]
    for mirror in origin.part.mirrors:
        curve = origin.part.curves[mirror.axis]
        a, b = (origin.part.points[end] for end in curve.ends)  # type: ignore[union-attr]
        found += [reflection(a, b).after(each) for each in found]
    for pattern in origin.part.patterns.values():
        found += steps(origin, pattern, found)
    return found


def steps(origin: Original, pattern: object, found: list[Motion]) -> list[Motion]:
    """A pattern's steps, each after a motion that there is."""
    from sketcher.part.value import PolarPattern

    if not isinstance(pattern, PolarPattern):
        return []  # a row's holes are told by their seed and the steps, which are judged apart
    center = origin.part.points[pattern.center]
    turn = 360.0 / pattern.count
    return [rotation(k * turn, center).after(each) for each in found
            for k in range(1, pattern.count)]


