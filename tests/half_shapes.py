"""Halves of parts as an intake finds them: loose curves with noise on every number."""

from __future__ import annotations

from math import cos, dist, radians, sin
from random import Random

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.intake.linework import FoundPattern, HalfShape, Shape, SymmetryAxis, TakenCurve
from sketcher.part.instances import places
from sketcher.part.value import GridPattern, Part
from sketcher.part.whole import half
from sketcher.quantity.parameters import evaluate_all
from sketcher.quantity.parse import evaluate

SAME = 1e-7


def half_shape(part: Part, noise: float = 0.0, seed: int = 1) -> HalfShape:
    """Return the half of a solved part; ends, centers and sizes are off by up to `noise`."""
    drawn = {name: curve for name, curve in half(part).items()
             if part.curves[name].role == "outline"}
    shake = _Shaken(noise, Random(seed))
    chains = [[shake.curve(curve) for curve in chain] for chain in _chains(drawn)]
    kept = tuple(tuple(TakenCurve(curve, (number,)) for curve in chain)
                 for number, chain in enumerate(chains))
    lines = half(part)
    axes = tuple(SymmetryAxis(f"x{number}", lines[mirror.axis].start, lines[mirror.axis].end)
                 for number, mirror in enumerate(part.mirrors, 1))
    patterns = tuple(_pattern(part, name, kept, drawn) for name in part.patterns)
    return HalfShape(Shape(kept, (), part.unit, 0.0, noise), kept, axes, axes, patterns)


def turned(shape: HalfShape, degrees: float) -> HalfShape:
    """Return a half without patterns turned about the origin."""
    c, s = cos(radians(degrees)), sin(radians(degrees))

    def at(p: XY) -> XY:
        return (c * p[0] - s * p[1], s * p[0] + c * p[1])

    kept = tuple(tuple(TakenCurve(_mapped(each.curve, at), each.entities) for each in chain)
                 for chain in shape.kept)
    axes = tuple(SymmetryAxis(axis.id, at(axis.start), at(axis.end)) for axis in shape.axes)
    return HalfShape(shape.shape, kept, axes, axes)


def _mapped(curve: Curve, at) -> Curve:
    if isinstance(curve, Line):
        return Line(at(curve.start), at(curve.end))
    if isinstance(curve, Circle):
        return Circle(at(curve.center), curve.radius)
    return Arc(at(curve.center), at(curve.start), at(curve.end), curve.ccw)


class _Shaken:
    """Moves every place once, wherever it is met again."""

    def __init__(self, noise: float, random: Random) -> None:
        self.noise, self.random = noise, random
        self.moved: dict[tuple[float, float], XY] = {}

    def off(self) -> float:
        return self.random.uniform(-self.noise, self.noise)

    def at(self, p: XY) -> XY:
        key = (round(p[0], 6), round(p[1], 6))
        if key not in self.moved:
            self.moved[key] = (p[0] + self.off(), p[1] + self.off())
        return self.moved[key]

    def curve(self, curve: Curve) -> Curve:
        if not self.noise:
            return curve
        if isinstance(curve, Line):
            return Line(self.at(curve.start), self.at(curve.end))
        if isinstance(curve, Circle):
            x, y = curve.center
            return Circle((x + self.off(), y + self.off()), curve.radius + self.off())
        middle = curve.start_angle + 0.5 * curve.sweep
        over = (curve.center[0] + curve.radius * cos(middle) + self.off(),
                curve.center[1] + curve.radius * sin(middle) + self.off())
        start, end = self.at(curve.start), self.at(curve.end)
        return Arc(_center(start, over, end), start, end, curve.ccw)


def _center(a: XY, b: XY, c: XY) -> XY:
    """Center of the circle through three points."""
    d = 2.0 * (a[0] * (b[1] - c[1]) + b[0] * (c[1] - a[1]) + c[0] * (a[1] - b[1]))
    p, q, r = (x * x + y * y for x, y in (a, b, c))
    return ((p * (b[1] - c[1]) + q * (c[1] - a[1]) + r * (a[1] - b[1])) / d,
            (p * (c[0] - b[0]) + q * (a[0] - c[0]) + r * (b[0] - a[0])) / d)


def _chains(drawn: dict[str, Curve]) -> list[list[Curve]]:
    chains = [[curve] for curve in drawn.values() if isinstance(curve, Circle)]
    rest = [curve for curve in drawn.values() if not isinstance(curve, Circle)]
    while rest:
        chain, grown = [rest.pop(0)], True
        while grown:
            grown = False
            for curve in list(rest):
                for way in (curve, _back(curve)):
                    if not grown and dist(way.start, chain[-1].end) < SAME:
                        chain.append(way)
                        grown = True
                    elif not grown and dist(way.end, chain[0].start) < SAME:
                        chain.insert(0, way)
                        grown = True
                if grown:
                    rest.remove(curve)
                    break
        chains.append(chain)
    return chains


def _back(curve: Line | Arc) -> Line | Arc:
    if isinstance(curve, Line):
        return Line(curve.end, curve.start)
    return Arc(curve.center, curve.end, curve.start, not curve.ccw)


def _pattern(
    part: Part, name: str, kept: tuple[tuple[TakenCurve, ...], ...], drawn: dict[str, Curve]
) -> FoundPattern:
    pattern, circle = part.patterns[name], drawn[part.patterns[name].curves[0]]
    place = [chain[0] for chain in _chains(drawn)].index(circle)
    seed = kept[place][0]
    members = (seed, *(TakenCurve(each.curve(circle), (0,)) for each in places(part, name)))
    if isinstance(pattern, GridPattern):
        values = evaluate_all(part.parameters, part.unit)
        across, up = (evaluate(text, "length", part.unit, values, "") for text in pattern.step)
        return FoundPattern("grid", seed, members, pattern.count, (across, up))
    return FoundPattern("polar", seed, members, (pattern.count, 1), (float(pattern.span), 0.0),
                        0.0, part.points[pattern.center])
