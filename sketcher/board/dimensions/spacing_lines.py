"""Dimensions of patterns on the sheet: steps of a grid, the angle and the number of places."""

from __future__ import annotations

from math import atan2, cos, hypot, radians, sin

from sketcher.board.dimensions.dimension_lines import Arrow, DimLines
from sketcher.drafting.dimension_text import repeated, times
from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY, Arc, Line
from sketcher.part.instances import places
from sketcher.part.value import GridPattern, Part, PartCurve, PolarPattern
from sketcher.part.wanted import parameter_values
from sketcher.quantity.parse import evaluate

GAP, PAST, ROW, LEADER = 4.0, 6.0, 22.0, 30.0
ARROW, LETTER = 10.0, 8.0
"""Pixels: hole to extension line, past the dimension line, to the dimension line, of a leader, of
an arrowhead, and that a letter is wide."""


def spacing_lines(part: Part, px: float) -> tuple[DimLines, ...]:
    """Return the dimensions of every pattern; their ids are those of `part.spacings.spacings`.

    Parameters
    ----------
    part : Part
        A pattern whose numbers cannot be read is left out: the table of patterns tells why.
    px : float
        One pixel in the part's unit, at the zoom in use.
    """
    found: list[DimLines] = []
    for name, pattern in part.patterns.items():
        try:
            if isinstance(pattern, GridPattern):
                found += _grid(part, name, pattern, px)
            else:
                found += _polar(part, name, pattern, px)
        except SketcherError:
            continue
    return tuple(found)


def seat(part: Part, curve: PartCurve) -> XY:
    """Return the place of a curve that its pattern's dimensions count from."""
    return part.points[curve.points[0] if curve.kind == "line" else curve.points[-1]]


def _grid(part: Part, name: str, pattern: GridPattern, px: float) -> list[DimLines]:
    values = parameter_values(part)
    turn = radians(evaluate(pattern.angle, "angle", part.unit, values))
    start = seat(part, part.curves[pattern.curves[0]])
    lines = []
    ways = ((cos(turn), sin(turn)), (-sin(turn), cos(turn)))
    for k, (way, text, count) in enumerate(zip(ways, pattern.step, pattern.count, strict=True)):
        step = evaluate(text, "length", part.unit, values)
        if count < 2 or step == 0.0:
            continue
        far = step * (count - 1)
        end = (start[0] + far * way[0], start[1] + far * way[1])
        said = repeated(part, step, count - 1, text).plain
        # Away from the other rows: below the first row, at the left of the first column.
        across = ways[1 - k]
        other = evaluate(pattern.step[1 - k], "length", part.unit, values)
        side = -1.0 if other >= 0.0 else 1.0
        lines.append(_straight(f"{name}.step{k + 1}", start, end,
                               (side * across[0], side * across[1]), said, px))
    return lines


def _straight(name: str, a: XY, b: XY, off: XY, text: str, px: float) -> DimLines:
    """Return a dimension between two places, beside them in the unit direction `off`."""
    size = hypot(b[0] - a[0], b[1] - a[1])
    ux, uy = (b[0] - a[0]) / size, (b[1] - a[1]) / size

    def beside(at: XY, pixels: float) -> XY:
        return (at[0] + pixels * px * off[0], at[1] + pixels * px * off[1])

    tips = beside(a, ROW), beside(b, ROW)
    extensions = tuple(Line(beside(at, GAP), beside(at, ROW + PAST)) for at in (a, b))

    def along(pixels: float) -> XY:
        """Return the place on the dimension line that far past its second tip."""
        return (tips[1][0] + pixels * px * ux, tips[1][1] + pixels * px * uy)

    wide = LETTER * len(text)
    if size > (wide + 2.0 * ARROW) * px:
        anchor = (0.5 * (tips[0][0] + tips[1][0]), 0.5 * (tips[0][1] + tips[1][1]))
        line, sign = Line(*tips), 1.0
    else:  # no room between: arrowheads from outside, the text past them
        anchor, sign = along(2.0 * ARROW + 0.5 * wide), -1.0
        before = (tips[0][0] - 2.0 * ARROW * px * ux, tips[0][1] - 2.0 * ARROW * px * uy)
        line = Line(before, along(2.0 * ARROW))
    arrows = (Arrow(tips[0], (-sign * ux, -sign * uy)), Arrow(tips[1], (sign * ux, sign * uy)))
    return DimLines(name, extensions, (line,), arrows, text, anchor, _reading(ux, uy))


def _reading(ux: float, uy: float) -> float:
    """Return the direction in which a text along a line reads, never on its head."""
    if ux < -1e-9 or (abs(ux) <= 1e-9 and uy < 0.0):
        ux, uy = -ux, -uy
    return atan2(uy, ux)


def _polar(part: Part, name: str, pattern: PolarPattern, px: float) -> list[DimLines]:
    start = seat(part, part.curves[pattern.curves[0]])
    cx, cy = part.points[pattern.center]
    radius = hypot(start[0] - cx, start[1] - cy)
    if radius == 0.0:
        return []
    span = evaluate(pattern.span, "angle", part.unit, parameter_values(part))
    first = atan2(start[1] - cy, start[0] - cx)

    def at(turn: float, reach: float) -> XY:
        return (cx + reach * cos(turn), cy + reach * sin(turn))

    tip, text = at(first, radius), at(first, radius + LEADER * px)
    count = times(pattern.count, part.drawing.practice).strip()
    found = [DimLines(f"{name}.count", (), (Line(tip, text),), (), count, text)]
    if abs(span) < 360.0 and pattern.count > 1:
        last = first + radians(span)
        middle = at(0.5 * (first + last), 0.5 * radius)
        arc = Arc((cx, cy), at(first, 0.5 * radius), at(last, 0.5 * radius), span >= 0.0)
        sign = 1.0 if span >= 0.0 else -1.0
        arrows = tuple(
            Arrow(at(turn, 0.5 * radius), (-way * sign * sin(turn), way * sign * cos(turn)))
            for turn, way in ((first, -1.0), (last, 1.0)))
        rays = tuple(Line((cx, cy), place.point(start)) for place in places(part, name)[-1:])
        gaps = pattern.count - 1
        said = repeated(part, span / gaps, gaps, "", "angle").plain
        found.append(DimLines(f"{name}.span", (Line((cx, cy), tip), *rays), (arc,), arrows,
                              said, middle))
    return found
