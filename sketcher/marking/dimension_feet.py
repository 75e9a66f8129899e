"""Where a dimension starts: its definition points as places of the key, whatever moves there.

A foot is kept by what it stands on, not by coordinates, so that it can be looked up in the key
with other values: an end, a center, the outermost place of a round, an edge, where two edges meet.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import dist
from typing import Literal

from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.geometry.evaluate import point_at
from sketcher.geometry.project import distance
from sketcher.part.value import Part
from sketcher.part.whole import whole

FootSort = Literal["point", "center", "end", "extreme", "sharp", "line"]
SQUARE = 1e-3
"""Sine of the angle within which an edge is square to a length."""
MIDDLE = 0.5


@dataclass(frozen=True, slots=True)
class PlacedKey:
    """A key as it stands with certain values: its curves by id, its points by name."""

    curves: Mapping[str, Curve]
    points: Mapping[str, XY]


def standing(part: Part) -> PlacedKey:
    """Return where everything of the whole part stands."""
    return PlacedKey({piece.id: piece.curve for piece in whole(part)}, part.points)


@dataclass(frozen=True, slots=True)
class Foot:
    """A place of the key.

    Parameters
    ----------
    sort : str
        ``point`` a named point, ``center`` of a round, ``end`` of a curve, ``extreme`` of a round
        in a direction, ``sharp`` where two lines meet, ``line`` a place on one.
    of : tuple of str
        Ids of pieces, or the name of the point.
    along : float
        Which end (0, 1), or where on the line from its start (0) to its end (1).
    way : (x, y)
        Unit direction from the center to the outermost place.
    """

    sort: FootSort
    of: tuple[str, ...]
    along: float = 0.0
    way: XY = (0.0, 0.0)

    def at(self, key: PlacedKey) -> XY | None:
        """Return where it lies with other values; None where it is not there."""
        if self.sort == "point":
            return key.points.get(self.of[0])
        curves = [key.curves.get(name) for name in self.of]
        first = curves[0]
        if self.sort == "sharp" and isinstance(first, Line) and isinstance(curves[1], Line):
            return crossing(first, curves[1])
        if first is None:
            return None
        if isinstance(first, Line):
            return point_at(first, self.along)
        if self.sort == "center":
            return first.center
        if self.sort == "extreme":
            (x, y), r = first.center, first.radius
            return (x + r * self.way[0], y + r * self.way[1])
        return None if isinstance(first, Circle) else point_at(first, self.along)


def crossing(one: Line, other: Line) -> XY | None:
    """Return where two unbounded lines meet; None where they are parallel."""
    (ax, ay), (bx, by) = one.direction, other.direction
    cross = ax * by - ay * bx
    if abs(cross) < SQUARE:
        return None
    dx, dy = other.start[0] - one.start[0], other.start[1] - one.start[1]
    t = (dx * by - dy * bx) / cross
    return (one.start[0] + t * ax, one.start[1] + t * ay)


class FootFinder:
    """Looks up what of the key lies at a place.

    Parameters
    ----------
    key : PlacedKey
    outline : iterable of str
        Ids of the outline's curves: they come first.
    within, reach : float
        Length within which a place is met, and within which one is taken that was not quite met.
    """

    def __init__(self, key: PlacedKey, outline: Iterable[str], within: float, reach: float
                 ) -> None:
        first = set(outline)
        self.key, self.within, self.reach = key, within, reach
        self.curves = sorted(key.curves.items(), key=lambda item: item[0] not in first)
        self.outline = first

    @cached_property
    def _fixed(self) -> list[tuple[Foot, XY]]:
        found: list[tuple[Foot, XY]] = []
        for name, curve in self.curves:
            if not isinstance(curve, Line):
                found.append((Foot("center", (name,)), curve.center))
        for name, curve in self.curves:
            if not isinstance(curve, Circle):
                found += [(Foot("end", (name,), 0.0), curve.start),
                          (Foot("end", (name,), 1.0), curve.end)]
        found += [(Foot("point", (name,)), at) for name, at in self.key.points.items()]
        return found

    @cached_property
    def _lines(self) -> list[tuple[str, Line]]:
        return [(name, curve) for name, curve in self.curves if isinstance(curve, Line)]

    def find(self, at: XY, way: XY | None) -> Foot | None:
        """Return what a dimension along `way` starts from at a place; None where nothing is."""
        for reach in (self.within, self.reach):
            found = self._within(at, way, reach)
            if found is not None:
                return found
        return None

    def _within(self, at: XY, way: XY | None, reach: float) -> Foot | None:
        fixed = [(dist(at, place), n) for n, (_, place) in enumerate(self._fixed)
                 if abs(place[0] - at[0]) <= reach and dist(at, place) <= reach]
        near = list(self._on_rounds(at, way, reach))
        if reach == self.within and fixed:
            return self._fixed[min(n for _, n in fixed)][0]
        near += [(off, self._fixed[n][0]) for off, n in fixed]
        near += self._sharp(at, reach)
        if not near:
            near += self._on_lines(at, way, reach)
        return min(near, key=lambda each: each[0])[1] if near else None

    def _on_rounds(self, at: XY, way: XY | None, reach: float) -> Iterator[tuple[float, Foot]]:
        for name, curve in self.curves:
            if isinstance(curve, Line) or abs(dist(at, curve.center) - curve.radius) > reach:
                continue
            (cx, cy), r = curve.center, curve.radius
            ways = [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)]
            if way is not None:
                ways = [way, (-way[0], -way[1]), *ways]
            for x, y in ways:
                off = dist(at, (cx + r * x, cy + r * y))
                if off <= reach:
                    yield off, Foot("extreme", (name,), 0.0, (x, y))
                    break

    def _sharp(self, at: XY, reach: float) -> list[tuple[float, Foot]]:
        through = [(name, line) for name, line in self._lines
                   if distance(line, at, bounded=False) <= reach]
        found = []
        for n, (name, line) in enumerate(through):
            for other, second in through[:n]:
                place = crossing(second, line)
                if place is not None and dist(place, at) <= reach:
                    found.append((dist(place, at), Foot("sharp", (other, name))))
        return found[:1] if reach == self.within else found

    def _on_lines(self, at: XY, way: XY | None, reach: float) -> Iterator[tuple[float, Foot]]:
        for name, line in self._lines:
            off = distance(line, at, bounded=False)
            if off > reach or not line.length:
                continue
            (ux, uy), (x0, y0) = line.direction, line.start
            along = ((at[0] - x0) * ux + (at[1] - y0) * uy) / line.length
            square = way is None or abs(ux * way[0] + uy * way[1]) <= SQUARE
            beyond = max(-along, along - 1.0, 0.0) * line.length
            if square:
                # the edge meant is the one that the place lies on, else one that points there
                yield off + 1e-6 * beyond, Foot("line", (name,), along)
            elif abs(along - MIDDLE) * line.length <= reach:
                yield off, Foot("line", (name,), MIDDLE)

    def line_through(self, one: XY, other: XY) -> str | None:
        """Return the line on which two places lie, an edge first."""
        found = []
        for name, line in self._lines:
            off = [distance(line, at, bounded=False) for at in (one, other)]
            if max(off) <= self.within:
                found.append((name not in self.outline, sum(off), name))
        return min(found)[2] if found else None

    def like_way(self, way: XY, feet: Sequence[Foot]) -> tuple[str, bool] | None:
        """Return a slanted line that runs along a direction or square to it, and which it is."""
        if min(abs(way[0]), abs(way[1])) <= SQUARE:
            return None
        near = {name for foot in feet for name in foot.of}
        found = []
        for name, line in self._lines:
            (ux, uy) = line.direction
            if abs(ux * way[1] - uy * way[0]) <= SQUARE:
                found.append((name not in near, True, name, False))
            elif abs(ux * way[0] + uy * way[1]) <= SQUARE:
                found.append((name not in near, False, name, True))
        return min(found)[2:] if found else None
