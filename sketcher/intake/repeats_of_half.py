"""Mirrors and patterns of a bound half, with round steps where the file allows them."""

from __future__ import annotations

from math import isclose

from sketcher.geometry.curves import Line
from sketcher.intake.half_sketch import HalfSketch
from sketcher.intake.linework import FoundPattern, HalfShape
from sketcher.intake.read_values import TRUSTED, digits
from sketcher.intake.round_figures import ValueSort, round_figures
from sketcher.intake.taken import TakenValue
from sketcher.part.value import GridPattern, Mirror, Part, Pattern, PolarPattern
from sketcher.quantity.format import exact


def with_mirrors_and_patterns(
    part: Part, half: HalfShape, sketch: HalfSketch, grid: float | None
) -> tuple[Part, tuple[TakenValue, ...]]:
    """Return a half with its reflection and its patterns, and the values of their steps."""
    values: list[TakenValue] = []
    patterns: dict[str, Pattern] = {}

    def written(name: str, amount: float, sort: ValueSort) -> str:
        doubt = 2.0 * sketch.noise
        figures = round_figures(amount, doubt, sort, part.unit, grid)
        if sketch.noise >= TRUSTED[part.unit]:
            figures = tuple(each for each in figures if each.rank == 0)
        text = figures[0].text if figures else exact(round(amount, digits(sketch.noise)))
        if amount:  # a single row has no second step
            values.append(TakenValue(name, amount, bool(figures), text))
        return text

    repeated: set[str] = set()
    for number, (name, found) in enumerate(sketch.seeds.items(), 1):
        key = f"n{number}"
        if half.axes and _both_sides(half, found):
            repeated.add(name)
        if found.kind == "grid":
            patterns[key] = GridPattern(
                (name,), (written(f"{key}.step[0]", found.step[0], "length"),
                          written(f"{key}.step[1]", found.step[1], "length")),
                found.count, written(f"{key}.angle", found.angle, "angle") if found.angle else "0")
            continue
        span = found.step[0]
        text = "360" if isclose(abs(span), 360.0) else written(f"{key}.span", span, "angle")
        patterns[key] = PolarPattern((name,), sketch.turned_about[name], found.count[0], text)
    taken: tuple[str, ...] = tuple(
        name for name, curve in part.curves.items()
        if curve.role == "outline" and name not in repeated)
    mirrors = tuple(Mirror(axis, taken if repeated else "outline") for axis in sketch.axes)
    return part.having(mirrors=mirrors, patterns=patterns), tuple(values)


def _both_sides(half: HalfShape, found: FoundPattern) -> bool:
    """Whether a pattern reaches across an axis, so that its seed must not be reflected."""
    for axis in half.axes:
        (x0, y0), (x1, y1) = axis.start, axis.end
        sides = set()
        for member in found.members:
            if isinstance(member.curve, Line):
                continue
            x, y = member.curve.center
            height = (x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)
            if abs(height) > 1e-6:
                sides.add(height > 0.0)
        if len(sides) > 1:
            return True
    return False
