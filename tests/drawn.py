"""Linework for tests of the steps of an intake, and what is compared of it."""

from __future__ import annotations

from collections.abc import Iterable

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import end_of, midpoint, start_of
from sketcher.intake.linework import Linework, TakenCurve


def drawn(*curves: Curve, quantum: float = 0.0, noise: float | None = None) -> Linework:
    """Return curves as the entities 1, 2, ... of a drawing in millimetres."""
    return Linework(tuple(TakenCurve(curve, (n,)) for n, curve in enumerate(curves, 1)),
                    quantum=quantum, noise=0.5 * quantum if noise is None else noise)


def lines_through(*places: XY, close: bool = True) -> list[Curve]:
    """Return the lines from place to place, and back to the first."""
    following = [*places[1:], places[0]] if close else places[1:]
    return [Line(p, q) for p, q in zip(places, following, strict=False)]


def plain(lines: Linework) -> list[Curve]:
    """Return the curves alone."""
    return [each.curve for each in lines.curves]


def told(lines: Linework) -> list[tuple[str, bool]]:
    """Return the names of what was repaired, and whether it was."""
    return [(repair.name, repair.taken) for repair in lines.repairs]


def shapes_of(curves: Iterable[Curve]) -> list[tuple[object, ...]]:
    """Return curves so that order and sense of travel make no difference."""
    def place(point: XY) -> XY:
        return (round(point[0], 6) + 0.0, round(point[1], 6) + 0.0)

    found: list[tuple[object, ...]] = []
    for curve in curves:
        if isinstance(curve, Circle):
            found.append(("circle", place(curve.center), round(curve.radius, 6)))
        else:
            kind = "arc" if isinstance(curve, Arc) else "line"
            found.append((kind, *sorted((place(start_of(curve)), place(end_of(curve)))),
                          place(midpoint(curve))))
    return sorted(found, key=repr)
