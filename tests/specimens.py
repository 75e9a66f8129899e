"""Small parts for tests, built from plain tables."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import dist

from sketcher.part.value import Binding, LineCurve, Part, PartCurve, frozen

XY = tuple[float, float]


def frame(
    points: Mapping[str, XY],
    curves: Iterable[tuple[str, str] | PartCurve] = (),
    *bindings: Binding,
) -> Part:
    """Part with curves e1, e2 ... (a pair of points is a line) and bindings b1, b2 ..."""
    drawn = [LineCurve(c) if isinstance(c, tuple) else c for c in curves]
    return Part(
        points=frozen(points),
        curves=frozen({f"e{k}": c for k, c in enumerate(drawn, 1)}),
        bindings=frozen({f"b{k}": b for k, b in enumerate(bindings, 1)}),
    )


def bar(points: Mapping[str, XY], one: str, other: str) -> Binding:
    """Distance of two points at the value that they have."""
    return Binding("distance", (one, other), repr(dist(points[one], points[other])))


def said(kind: str, *of: str, value: str | None = None, drives: bool = True) -> Binding:
    """Binding in one short line."""
    return Binding(kind, of, value, drives=drives)
