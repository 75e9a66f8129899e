"""The steps of patterns: of a grid along row and column, of an open polar pattern."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, sin

from sketcher.drafting.dimension_text import repeated
from sketcher.drafting.measured.paper_measures import (
    Measured,
    MeasuredAngle,
    MeasuredLength,
    Wedge,
)
from sketcher.drafting.measured.wedges import upright
from sketcher.drafting.paper_view import View
from sketcher.geometry.curves import XY, Arc, Circle, Line
from sketcher.geometry.evaluate import midpoint
from sketcher.part.instances import places
from sketcher.part.value import GridPattern, Part, PolarPattern
from sketcher.part.whole import curve_value


def pattern_value(part: Part, text: str, quantity: str) -> float:
    """Evaluate an expression of a pattern.

    Raises
    ------
    QuantityError
        When it cannot be read.
    """
    from sketcher.quantity.parameters import evaluate_all
    from sketcher.quantity.parse import evaluate

    return evaluate(text, quantity, part.unit, evaluate_all(part.parameters, part.unit))


def is_full_turn(part: Part, pattern: PolarPattern) -> bool:
    """Tell whether a polar pattern spreads over the whole turn."""
    return abs(pattern_value(part, pattern.span, "angle")) == 360.0


def steps_of(part: Part, view: View, name: str) -> tuple[Measured, ...]:
    """Return the steps of one pattern; none of a full turn, whose wording says it.

    Raises
    ------
    SketcherError
        When its numbers cannot be read.
    """
    pattern = part.patterns[name]
    if isinstance(pattern, GridPattern):
        return tuple(_grid(part, view, name, pattern))
    return () if is_full_turn(part, pattern) else tuple(_sector(part, view, name, pattern))


def _grid(part: Part, view: View, name: str, pattern: GridPattern) -> Iterator[MeasuredLength]:
    """Read the steps of a grid, along the row and up the column of the drawn feature."""
    turn = radians(pattern_value(part, pattern.angle, "angle"))
    start = _center(curve_value(part, part.curves[pattern.curves[0]]))
    ways = ((cos(turn), sin(turn)), (-sin(turn), cos(turn)))
    for number, (way, text, count) in enumerate(
        zip(ways, pattern.step, pattern.count, strict=True)
    ):
        if count < 2:
            continue
        step = pattern_value(part, text, "length")
        far = step * (count - 1)
        end = (start[0] + far * way[0], start[1] + far * way[1])
        yield MeasuredLength(
            f"{name}.step{number + 1}", upright(way), (view.point(start),),
            (view.point(end),), repeated(part, step, count - 1, text))


def _sector(part: Part, view: View, name: str, pattern: PolarPattern) -> Iterator[MeasuredAngle]:
    """Read the steps of an open polar pattern."""
    start = _center(curve_value(part, part.curves[pattern.curves[0]]))
    further = places(part, name)
    if not further:
        return  # a single hole has no step
    end = further[-1].point(start)
    vertex = view.point(part.points[pattern.center])
    rays = [Line(vertex, view.point(p)) for p in (start, end)]
    wedge = Wedge(vertex, (rays[0].direction, rays[1].direction),
                  ((0.0, rays[0].length), (0.0, rays[1].length)))
    gaps = pattern.count - 1
    span = abs(pattern_value(part, pattern.span, "angle"))
    if gaps and 0.0 < span < 180.0:
        yield MeasuredAngle(f"{name}.span", (wedge,),
                            repeated(part, span / gaps, gaps, "", "angle"))


def _center(curve: Line | Arc | Circle) -> XY:
    return midpoint(curve) if isinstance(curve, Line) else curve.center
