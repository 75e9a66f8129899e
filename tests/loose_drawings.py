"""Drawings as a student leaves them: curves with points of their own, no bindings, other ids."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from functools import cache
from math import cos, radians, sin
from pathlib import Path

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import carried
from sketcher.part.store import open_file
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve, Part, PartCurve, Role, Unit
from sketcher.part.whole import whole
from sketcher.solve.solver import solve
from tests.demo_parts import FOLDER


@cache
def demo(name: str) -> Part:
    """A demo part, solved."""
    return solved_file(FOLDER / f"{name}.profile.json")


def solved_file(path: Path) -> Part:
    return solve(open_file(path).part).part


def outline_of(part: Part) -> list[Curve]:
    """The whole outline of a part, images included."""
    return [piece.curve for piece in whole(part) if piece.role == "outline"]


def loose(curves: Iterable[Curve], unit: Unit = "mm", role: Role = "outline") -> Part:
    """A part of these curves alone: each has its own points, nothing is bound."""
    points: dict[str, XY] = {}
    made: dict[str, PartCurve] = {}

    def put(at: XY) -> str:
        name = f"q{len(points) + 1}"
        points[name] = at
        return name

    for number, curve in enumerate(curves, 1):
        if isinstance(curve, Line):
            made[f"z{number}"] = LineCurve((put(curve.start), put(curve.end)), role)
        elif isinstance(curve, Circle):
            made[f"z{number}"] = CircleCurve(put(curve.center), curve.radius, role)
        else:
            made[f"z{number}"] = ArcCurve((put(curve.start), put(curve.end)), put(curve.center),
                                          "ccw" if curve.ccw else "cw", role)
    return Part(unit=unit).having(points=points, curves=made)


def elsewhere(curves: Iterable[Curve], dx: float, dy: float) -> list[Curve]:
    """Curves moved by a shift, each drawn from its other end."""
    return [backwards(carried(curve, lambda at: (at[0] + dx, at[1] + dy))) for curve in curves]


def turned_by(curves: Iterable[Curve], degrees: float) -> list[Curve]:
    """Curves turned about a place of no meaning."""
    c, s = cos(radians(degrees)), sin(radians(degrees))
    return [carried(curve, lambda at: (c * at[0] - s * at[1] + 7.0, s * at[0] + c * at[1] - 3.0))
            for curve in curves]


def mirror_image(curves: Iterable[Curve]) -> list[Curve]:
    """Curves mirrored about a plumb line."""
    return [flipped(curve, lambda at: (-at[0], at[1])) for curve in curves]


def flipped(curve: Curve, at: Callable[[XY], XY]) -> Curve:
    other = carried(curve, at)
    return replace(other, ccw=not other.ccw) if isinstance(other, Arc) else other


def backwards(curve: Curve) -> Curve:
    if isinstance(curve, Line):
        return Line(curve.end, curve.start)
    if isinstance(curve, Arc):
        return Arc(curve.center, curve.end, curve.start, not curve.ccw)
    return curve


def lengthened(line: Line, by: float) -> Line:
    """A line that runs on by so much at both ends."""
    (x, y), (ux, uy) = line.start, line.direction
    return Line((x - by * ux, y - by * uy), (line.end[0] + by * ux, line.end[1] + by * uy))


def halved(line: Line) -> tuple[Line, Line]:
    middle = (0.3 * line.start[0] + 0.7 * line.end[0], 0.3 * line.start[1] + 0.7 * line.end[1])
    return Line(line.start, middle), Line(middle, line.end)


def without(curves: Sequence[Curve], *gone: int) -> list[Curve]:
    return [curve for n, curve in enumerate(curves) if n not in gone]
