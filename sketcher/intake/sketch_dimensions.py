"""Step 10, second half: the dimensions that a drafter would give, class by class."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import dist, pi

from sketcher.geometry.curves import Arc
from sketcher.intake.round_figures import ValueSort
from sketcher.intake.sketch_conditions import Seen
from sketcher.intake.sketch_datum import edges, ends_at, level, long, plumb, slopes
from sketcher.intake.slot_spokes import caps, spokes
from sketcher.part.operand_forms import line_ends, radius_of
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve, Part
from sketcher.part.whole import curve_value

WALL = 2.5
"""A hole nearer to an edge than so many of its diameters is measured from that edge: it is the wall
that matters there (common practice, no source)."""


BOSS = pi / 3.0
"""An arc about a hole that turns by less is no wall round it."""
CHAMFER = 0.25
"""A slope between a level and a plumb edge that is at most so long beside the longest edge is a
chamfer."""


@dataclass(frozen=True, slots=True)
class Offered:
    """A dimension that could be given."""

    kind: str
    of: tuple[str, ...]
    sort: ValueSort = "length"


ALONG = ("run", "rise")
"""Kinds of a distance along x and along y."""

Offers = Iterator[tuple[Offered, ...]]
"""Dimensions in order; those of one tuple say nearly the same, the first is liked best."""


def usual(seen: Seen) -> Iterator[Offers]:
    """Return the classes of dimensions that are read off first, in a drafter's order."""
    for each in (_holes, _rounds, _slot_ends, _hole_centers, _edges, _slopes, _corners, _strips,
                 _centers):
        yield each(seen)


def further(seen: Seen) -> Iterator[Offers]:
    """Return what is left to say when the usual is said: spokes, lengths, and every point."""
    yield _spokes(seen)
    yield _lengths(seen)
    yield _points(seen)


def _rounds_of(part: Part) -> Iterator[tuple[str, ArcCurve | CircleCurve]]:
    for name, curve in part.curves.items():
        if not isinstance(curve, LineCurve):
            yield name, curve


def _holes(seen: Seen) -> Offers:
    part = seen.part
    holes = [(-curve.radius, name) for name, curve in part.curves.items()
             if isinstance(curve, CircleCurve)]
    for _, name in sorted(holes):
        yield (Offered("diameter", (name,), "hole"),)


def _rounds(seen: Seen) -> Offers:
    """Radii, the ends of slots first; round a hole or the end of a slot the wall in their stead.

    The arcs along a curved slot are left to its spokes.
    """
    part = seen.part
    ends = caps(part)
    inside = {part.curves[name].points[-1]: name for name in ends}
    inside |= {curve.center: name for name, curve in part.curves.items()
               if isinstance(curve, CircleCurve)}
    along = {end for name in spokes(part) for end in line_ends(part, name)[:1]}
    arcs = [(name, curve) for name, curve in part.curves.items() if isinstance(curve, ArcCurve)]
    for name, curve in sorted(arcs, key=lambda pair: (
            pair[0] not in ends, -radius_of(part, pair[0]))):
        radius = Offered("radius", (name,), "radius")
        hole = inside.get(curve.center)
        value = curve_value(part, curve)
        assert isinstance(value, Arc)
        wide = abs(value.sweep) >= BOSS
        if hole is not None and wide and radius_of(part, name) > 1.01 * radius_of(part, hole):
            yield Offered("offset", (hole, name)), radius
        elif wide or curve.center not in along:
            yield (radius,)


def _slot_ends(seen: Seen) -> Offers:
    for name in spokes(seen.part):
        yield (Offered("distance", (name,)),)
        yield (Offered("angle", (name,), "angle"),)


def _hole_centers(seen: Seen) -> Offers:
    part, near = seen.part, seen.sketch.near
    done: set[str] = set()
    walls = {0: [name for name in edges(part) if plumb(part, name, near)],
             1: [name for name in edges(part) if level(part, name, near)]}
    holes = [(curve.center, 2.0 * curve.radius) for curve in part.curves.values()
             if isinstance(curve, CircleCurve)]
    for center, diameter in holes:
        if center in done:
            continue
        done.add(center)
        for index in (0, 1):
            yield tuple(_position(seen, center, index, walls[index], diameter))


def _position(
    seen: Seen, center: str, index: int, walls: list[str], diameter: float
) -> Iterator[Offered]:
    """Ways to place a hole along one direction: the wall beside it, the datum, other walls."""
    part = seen.part
    at = part.points[center]
    beside = []
    for name in walls:
        one, other = ends_at(part, name)
        low, high = sorted((one[1 - index], other[1 - index]))
        if low - diameter <= at[1 - index] <= high + diameter:
            beside.append((abs(one[index] - at[index]), name))
    beside.sort()
    from_base = Offered(ALONG[index], (seen.bases[index], center))
    nearest = beside[:1]
    if nearest and nearest[0][0] <= WALL * diameter and center not in seen.on_axes:
        yield Offered("offset", (nearest[0][1], center))
    yield from_base
    for away, name in nearest:
        if away > WALL * diameter:
            yield Offered("offset", (name, center))


def _edges(seen: Seen) -> Offers:
    """Level and plumb edges from the datum, the furthest first: overall sizes."""
    part, near = seen.part, seen.sketch.near
    found: list[tuple[float, Offered]] = []
    for name in edges(part):
        for straight, index in ((level, 1), (plumb, 0)):
            if straight(part, name, near):
                base = part.points[seen.bases[index]]
                end = min(line_ends(part, name), key=lambda p: dist(part.points[p], base))
                away = abs(part.points[end][index] - base[index])
                found.append((-away, Offered(ALONG[index], (seen.bases[index], end))))
    for _, each in sorted(found, key=lambda pair: pair[0]):
        yield (each,)


def _corners(seen: Seen) -> Offers:
    """Corners of slopes from the datum: those that were rounded off, and sharp ones."""
    part, near, datum = seen.part, seen.sketch.near, seen.datum.point
    assert datum is not None
    lost = [name for name in part.points if name.startswith("q") and name != datum]
    sloped = set(slopes(part, near))
    at: dict[str, list[str]] = {}
    for name in edges(part):
        for end in line_ends(part, name):
            at.setdefault(end, []).append(name)
    sharp = [end for end, names in at.items() if len(names) > 1
             and not sloped.isdisjoint(names) and end != datum]
    for name in (*lost, *sharp):
        for index in (0, 1):
            yield (Offered(ALONG[index], (seen.bases[index], name)),)


def _slopes(seen: Seen) -> Offers:
    """Angles of lines to level, the longest first; with it the run of a chamfer."""
    part, near = seen.part, seen.sketch.near
    straight = {end for name in edges(part) for end in line_ends(part, name)
                if level(part, name, near) or plumb(part, name, near)}
    size = max((long(part, name) for name in edges(part)), default=1.0)
    rest = [name for name in slopes(part, near) if long(part, name) > 20.0 * near]
    for name in sorted(rest, key=lambda name: -long(part, name)):
        yield (Offered("angle", (name,), "angle"),)
        ends = line_ends(part, name)
        if set(ends) <= straight and long(part, name) <= CHAMFER * size:
            yield Offered("run", ends), Offered("rise", ends)


def _strips(seen: Seen) -> Offers:
    """Distance of parallel slopes."""
    part, near = seen.part, seen.sketch.near
    ways = []
    for name in slopes(part, near):
        (x0, y0), (x1, y1) = ends_at(part, name)
        size = dist((x0, y0), (x1, y1)) or 1.0
        u = ((x1 - x0) / size, (y1 - y0) / size)
        ways.append((name, u if u > (0.0, 0.0) else (-u[0], -u[1]), size))
    ways.sort(key=lambda one: -one[2])
    for number, (name, u, size) in enumerate(ways[:200]):
        for other, v, shorter in ways[:number]:
            if abs(u[0] * v[1] - u[1] * v[0]) * min(size, shorter) <= near:
                yield (Offered("offset", (other, line_ends(part, name)[0])),)
                break


def _centers(seen: Seen) -> Offers:
    part, datum = seen.part, seen.datum.point
    assert datum is not None
    for name in dict.fromkeys(curve.center for _, curve in _rounds_of(part)):
        if name == datum:
            continue
        for index in (0, 1):
            yield (Offered(ALONG[index], (seen.bases[index], name)),)


def _spokes(seen: Seen) -> Offers:
    """Distances of centers from the datum: places that were given by angle and radius."""
    part, datum = seen.part, seen.datum.point
    assert datum is not None
    for name in dict.fromkeys(curve.center for _, curve in _rounds_of(part)):
        if name != datum:
            yield (Offered("distance", (datum, name)),)


def _lengths(seen: Seen) -> Offers:
    part = seen.part
    for name in sorted(edges(part), key=lambda name: -long(part, name)):
        ends = line_ends(part, name)
        yield (Offered("run", ends), Offered("rise", ends),
               Offered("distance", (name,)))


def _points(seen: Seen) -> Offers:
    part, datum = seen.part, seen.datum.point
    assert datum is not None
    for name in part.points:
        if name != datum:
            for index in (0, 1):
                yield (Offered(ALONG[index], (seen.bases[index], name)),)
