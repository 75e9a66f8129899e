"""The half as a part without bindings: points that are shared, axes, patterns, names."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from math import cos, dist, hypot, pi

import numpy as np

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.intake.linework import FoundPattern, HalfShape, SymmetryAxis, TakenCurve
from sketcher.part.equations import Array
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve, Part, PartCurve, begun
from sketcher.part.whole import curve_value

NOISES = 4.0
"""Places that differ by so many noises are one: two ends with twice the noise each."""
FINEST = 1e-8
"""Share of the size below which places are one in a file written out to the last digit."""
WORST_CENTER = 50.0
"""The center of a short arc is known worse than its ends; more than so much worse counts for
nothing."""


@dataclass(frozen=True, slots=True)
class HalfSketch:
    """A half whose curves share their points.

    Parameters
    ----------
    part : Part
        Curves and points alone, in the order of the chains.
    near : float
        Distance, in the part's unit, within which two places of the drawing are one.
    noise : float
        How far an end may lie from where it was meant.
    sources : mapping of str to tuple of int
        Entities by curve id.
    axes : tuple of str
        Ids of the lines that reflect.
    seeds : mapping of str to FoundPattern
        Patterns by the id of the curve that is repeated.
    turned_about : mapping of str to str
        The point about which a pattern goes round, by the same id.
    doubt : mapping of str to float
        How far each center may lie from where it was meant.
    """

    part: Part
    near: float
    noise: float
    sources: Mapping[str, tuple[int, ...]]
    axes: tuple[str, ...]
    seeds: Mapping[str, FoundPattern]
    turned_about: Mapping[str, str]
    doubt: Mapping[str, float]

    @property
    def doubts(self) -> Array:
        """How far each coordinate and radius may be off, shape (slots,), in the part's unit."""
        points = [self.doubt.get(name, self.noise) for name in self.part.points]
        radii = [center_doubt(curve_value(self.part, curve), self.noise)
                 for curve in self.part.curves.values() if not isinstance(curve, LineCurve)]
        return np.array([*(each for one in points for each in (one, one)), *radii])


def half_sketch(half: HalfShape) -> HalfSketch:
    """Return the curves of a half over shared points; concentric rounds share their center.

    Two centers are one when they differ by no more than the drawing's noise allows: an arc's
    center is known the worse the shorter the arc is.
    """
    return _Sketching(half).done()


def center_doubt(curve: Curve, noise: float) -> float:
    """Return how far the center of a round may lie off, from ends that lie off by `noise`."""
    if isinstance(curve, Arc):
        rise = 1.0 - cos(0.5 * min(abs(curve.sweep), pi))
        return noise * min(1.0 / max(rise, 1e-9), WORST_CENTER)
    return noise


class _Sketching:
    def __init__(self, half: HalfShape) -> None:
        self.half = half
        everything = [at for chain in half.kept for each in chain for at in _reach(each.curve)]
        xs, ys = [at[0] for at in everything], [at[1] for at in everything]
        self.size = hypot(max(xs) - min(xs), max(ys) - min(ys)) if everything else 1.0
        self.noise = max(half.shape.noise, 0.05 * FINEST * self.size)
        self.near = max(NOISES * half.shape.noise, FINEST * self.size)
        self.numbers: dict[str, int] = {}
        self.points: dict[str, XY] = {}
        self.curves: dict[str, PartCurve] = {}
        self.sources: dict[str, tuple[int, ...]] = {}
        self.seeds: dict[str, FoundPattern] = {}
        self.turned_about: dict[str, str] = {}
        self.doubt: dict[str, float] = {}

    def done(self) -> HalfSketch:
        rounds: list[tuple[str, TakenCurve]] = []
        for chain in self.half.kept:
            rounds += self._chain(chain)
        self._centers(rounds)
        axes = tuple(self._axis(number, axis) for number, axis in enumerate(self.half.axes, 1))
        for pattern in self.half.patterns:
            self._seed(pattern)
        part = begun(self.half.shape.unit).having(points=self.points, curves=self.curves)
        return HalfSketch(part, self.near, self.noise, self.sources, axes, self.seeds,
                          self.turned_about, self.doubt)

    def _named(self, prefix: str) -> str:
        self.numbers[prefix] = self.numbers.get(prefix, 0) + 1
        return f"{prefix}{self.numbers[prefix]}"

    def _point(self, at: XY, prefix: str = "p") -> str:
        name = self._named(prefix)
        self.points[name] = at
        return name

    def _chain(self, chain: tuple[TakenCurve, ...]) -> list[tuple[str, TakenCurve]]:
        """Put a chain's ends and lines; return its rounds, whose centers come later."""
        rounds: list[tuple[str, TakenCurve]] = []
        ends = [(c.start, c.end) for each in chain if not isinstance(c := each.curve, Circle)]
        names: list[str] = []
        if ends:
            closed = dist(ends[-1][1], ends[0][0]) <= self.near and len(ends) > 1
            names = [self._point(start) for start, _ in ends]
            names.append(names[0] if closed else self._point(ends[-1][1]))
        at = 0
        for each in chain:
            curve = each.curve
            if isinstance(curve, Circle):
                name = self._named("h")
                self.curves[name] = CircleCurve("", curve.radius)
                rounds.append((name, each))
            elif isinstance(curve, Line):
                name = self._named("e")
                self.curves[name] = LineCurve((names[at], names[at + 1]))
                at += 1
            else:
                name = self._named("a")
                self.curves[name] = ArcCurve((names[at], names[at + 1]), "",
                                             "ccw" if curve.ccw else "cw")
                rounds.append((name, each))
                at += 1
            self.sources[name] = each.entities
        return rounds

    def _centers(self, rounds: Iterable[tuple[str, TakenCurve]]) -> None:
        """Give rounds their centers, those that are known best first."""
        order = list(self.curves)
        ranked = sorted(rounds, key=lambda pair: center_doubt(pair[1].curve, 1.0))
        grid: dict[tuple[int, int], list[str]] = {}
        step = max(10.0 * self.near, NOISES * WORST_CENTER * self.noise)
        for name, each in ranked:
            curve = each.curve
            assert not isinstance(curve, Line)
            doubt = center_doubt(curve, self.noise)
            found = self._center_at(grid, step, curve.center, doubt, curve.radius)
            if found is None:
                found = self._point(curve.center, "c")
                self.doubt[found] = doubt
                grid.setdefault(_cell(curve.center, step), []).append(found)
            drawn = self.curves[name]
            if isinstance(drawn, CircleCurve):
                self.curves[name] = CircleCurve(found, drawn.radius)
            elif isinstance(drawn, ArcCurve):
                self.curves[name] = ArcCurve(drawn.ends, found, drawn.turn)
        self.curves = {name: self.curves[name] for name in order}
        self._number_centers()

    def _number_centers(self) -> None:
        """Number the centers in the order of their rounds, whichever was known best."""
        found = dict.fromkeys(curve.center for curve in self.curves.values()
                              if not isinstance(curve, LineCurve))
        names = {old: f"c{number}" for number, old in enumerate(found, 1)}
        self.points = {**{n: at for n, at in self.points.items() if n not in names},
                       **{names[old]: self.points[old] for old in found}}
        self.doubt = {names[old]: self.doubt[old] for old in found}
        self.curves = {name: curve if isinstance(curve, LineCurve) else replace(
            curve, center=names[curve.center]) for name, curve in self.curves.items()}

    def _center_at(
        self, grid: dict[tuple[int, int], list[str]], step: float, at: XY, doubt: float,
        radius: float,
    ) -> str | None:
        column, row = _cell(at, step)
        reach = max(FINEST * self.size, min(NOISES * doubt, step, 0.05 * radius))
        near = [name for i in (-1, 0, 1) for j in (-1, 0, 1)
                for name in grid.get((column + i, row + j), ())
                if dist(self.points[name], at) <= reach]
        return min(near, key=lambda name: dist(self.points[name], at), default=None)

    def _axis(self, number: int, axis: SymmetryAxis) -> str:
        """Draw an axis from end to end of what lies on it; two axes begin where they cross."""
        (x0, y0), (x1, y1) = axis.start, axis.end
        long = dist(axis.start, axis.end)
        way = ((x1 - x0) / long, (y1 - y0) / long)

        def along(name: str) -> float:
            x, y = self.points[name]
            return (x - x0) * way[0] + (y - y0) * way[1]

        on = [name for name, (x, y) in self.points.items()
              if abs((x - x0) * way[1] - (y - y0) * way[0])
              <= max(self.near, NOISES * self.doubt.get(name, 0.0))]
        ends = [name for name in on if name[0] == "p"] or on
        crossing = self._crossing(axis)
        if crossing is not None:
            ends = [name for name in ends
                    if dist(self.points[name], self.points[crossing]) > self.near]
            far = max(ends, key=lambda name: abs(along(name) - along(crossing)), default=None)
            pair = (crossing, far or self._point(axis.end))
        elif len(ends) > 1:
            pair = (min(ends, key=along), max(ends, key=along))
        else:
            pair = (self._point(axis.start), self._point(axis.end))
        name = "ax" if len(self.half.axes) == 1 else f"x{number}"
        self.curves[name] = LineCurve(pair, "axis")
        return name

    def _crossing(self, axis: SymmetryAxis) -> str | None:
        if len(self.half.axes) < 2:
            return None
        one, other = self.half.axes[:2]
        return self._standing(_met(one, other))

    def _standing(self, at: XY) -> str:
        """Return the point that is there, or a new one."""
        for name, place in self.points.items():
            if dist(place, at) <= max(self.near, NOISES * self.doubt.get(name, 0.0)):
                return name
        return self._point(at, "c")

    def _seed(self, pattern: FoundPattern) -> None:
        seed = pattern.seed.curve
        for name, curve in self.curves.items():
            if isinstance(curve, CircleCurve) and isinstance(seed, Circle) and \
                    self.sources.get(name) == pattern.seed.entities and \
                    dist(self.points[curve.center], seed.center) <= 10.0 * self.near:
                self.seeds[name] = pattern
                if pattern.center is not None:
                    self.turned_about[name] = self._standing(pattern.center)
                return


def _met(one: SymmetryAxis, other: SymmetryAxis) -> XY:
    """Where the lines of two axes cross."""
    (ax, ay), (bx, by) = one.start, one.end
    (cx, cy), (dx, dy) = other.start, other.end
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    t = ((cx - ax) * vy - (cy - ay) * vx) / (ux * vy - uy * vx)
    return (ax + t * ux, ay + t * uy)


def _cell(at: XY, step: float) -> tuple[int, int]:
    return (int(at[0] // step), int(at[1] // step))


def _reach(curve: Curve) -> tuple[XY, ...]:
    if isinstance(curve, Circle):
        (x, y), r = curve.center, curve.radius
        return ((x - r, y - r), (x + r, y + r))
    return (curve.start, curve.end)
