"""The datum of a half: the point from which a drafter measures, and that is held."""

from __future__ import annotations

from dataclasses import dataclass
from math import dist

from sketcher.geometry.curves import XY
from sketcher.intake.half_sketch import HalfSketch
from sketcher.part.operand_forms import line_ends
from sketcher.part.value import CircleCurve, LineCurve, Part


@dataclass(frozen=True, slots=True)
class Datum:
    """The datum: a point's id, or where it will be and the two lines that meet there."""

    at: XY
    point: str | None = None
    lines: tuple[str, str] | None = None


def find_datum(sketch: HalfSketch) -> Datum:
    """Return the datum of a half.

    With two axes it is their crossing; with one the place on it that begins the longest edge square
    to it, else the largest hole on it. Without an axis it is the corner of the longest level and
    plumb edges, one that was rounded or bevelled included, else the largest hole (common practice,
    no source).
    """
    part = sketch.part
    if len(sketch.axes) == 2:
        one, other = (line_ends(part, name) for name in sketch.axes)
        name = next((end for end in one if end in other), one[0])
        return Datum(part.points[name], name)
    if sketch.axes:
        return _on_axis(sketch)
    return _corner(sketch) or _hole(sketch)


def level(part: Part, name: str, near: float) -> bool:
    """Whether a line is level within the noise."""
    (_, y0), (_, y1) = ends_at(part, name)
    return abs(y1 - y0) <= near


def plumb(part: Part, name: str, near: float) -> bool:
    """Whether a line is plumb within the noise."""
    (x0, _), (x1, _) = ends_at(part, name)
    return abs(x1 - x0) <= near


def ends_at(part: Part, name: str) -> tuple[XY, XY]:
    """Return where the ends of a line are."""
    one, other = line_ends(part, name)
    return part.points[one], part.points[other]


def long(part: Part, name: str) -> float:
    """Return the length of a line."""
    return dist(*ends_at(part, name))


def edges(part: Part) -> list[str]:
    """Return the lines of the outline."""
    return [name for name, curve in part.curves.items()
            if isinstance(curve, LineCurve) and curve.role == "outline"]


def slopes(part: Part, near: float) -> list[str]:
    """Return the lines of the outline that are neither level nor plumb."""
    return [name for name in edges(part)
            if not level(part, name, near) and not plumb(part, name, near)]


def _on_axis(sketch: HalfSketch) -> Datum:
    part, (axis,) = sketch.part, sketch.axes
    upright = plumb(part, axis, sketch.near)
    on = {name for name, (x, y) in part.points.items()
          if abs((x - part.points[line_ends(part, axis)[0]][0]) if upright
                 else (y - part.points[line_ends(part, axis)[0]][1])) <= sketch.near}
    square = [(long(part, name), end) for name in edges(part)
              if (level if upright else plumb)(part, name, sketch.near)
              for end in line_ends(part, name) if end in on]
    if square:
        best = max(square, key=lambda pair: (pair[0], -sum(part.points[pair[1]])))[1]
        return Datum(part.points[best], best)
    holes = [(curve.radius, curve.center) for curve in part.curves.values()
             if isinstance(curve, CircleCurve) and curve.center in on]
    name = max(holes)[1] if holes else line_ends(part, axis)[0]
    return Datum(part.points[name], name)


def _corner(sketch: HalfSketch) -> Datum | None:
    part, near = sketch.part, sketch.near
    lying = [name for name in edges(part) if level(part, name, near)]
    standing = [name for name in edges(part) if plumb(part, name, near)]
    best: tuple[tuple[float, float], Datum] | None = None
    rounded = {frozenset(curve.ends) for curve in part.curves.values()
               if not isinstance(curve, CircleCurve) and curve.role == "outline"}
    size = max((long(part, name) for name in edges(part)), default=1.0)
    for flat in sorted(lying, key=lambda name: -long(part, name))[:40]:
        for up in sorted(standing, key=lambda name: -long(part, name))[:40]:
            joined = _joined(part, flat, up, rounded)
            if joined is None:
                continue
            (_, y), (x, _) = ends_at(part, flat)[0], ends_at(part, up)[0]
            rank = (round((long(part, flat) + long(part, up)) / size, 3), -(x + y))
            if best is None or rank > best[0]:
                best = rank, (Datum(part.points[joined], joined) if joined
                              else Datum((x, y), None, (flat, up)))
    return best and best[1]


def _joined(
    part: Part, one: str, other: str, rounded: set[frozenset[str]]
) -> str | None:
    """Return the point that two lines share, empty when one curve rounds it off, None otherwise."""
    here, there = line_ends(part, one), line_ends(part, other)
    for end in here:
        if end in there:
            return end
    if any(frozenset((end, far)) in rounded for end in here for far in there):
        return ""
    return None


def _hole(sketch: HalfSketch) -> Datum:
    part = sketch.part
    holes = [(curve.radius, curve.center) for curve in part.curves.values()
             if isinstance(curve, CircleCurve)]
    centers = [curve.center for curve in part.curves.values()
               if not isinstance(curve, LineCurve)]
    name = max(holes)[1] if holes else (centers or list(part.points))[0]
    return Datum(part.points[name], name)
