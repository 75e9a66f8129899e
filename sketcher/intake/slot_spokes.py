"""Curved slots: their ends stand on spokes, by a radius and an angle, as a paper gives them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import pi

from sketcher.geometry.curves import Arc
from sketcher.intake.half_sketch import HalfSketch
from sketcher.part.value import ArcCurve, LineCurve, Part
from sketcher.part.whole import curve_value

CAP = 0.8 * pi
"""An arc that turns by at least so much between two others closes the end of a slot."""


def with_spokes(sketch: HalfSketch) -> HalfSketch:
    """Return the half with layout lines from the center of each curved slot to its ends."""
    part = sketch.part
    curves = dict(part.curves)
    for number, (center, end) in enumerate(_ends(part), 1):
        curves[f"s{number}"] = LineCurve((center, end), "layout")
    return replace(sketch, part=part.having(curves=curves))


def spokes(part: Part) -> list[str]:
    """Return the spokes of a half."""
    return [name for name, curve in part.curves.items() if curve.role == "layout"]


def caps(part: Part) -> list[str]:
    """Return the arcs that close the ends of slots: hollow, and about half a turn."""
    return [name for name, curve in part.curves.items()
            if isinstance(curve, ArcCurve) and curve.role == "outline"
            and isinstance(value := curve_value(part, curve), Arc) and abs(value.sweep) >= CAP]


def _ends(part: Part) -> Iterator[tuple[str, str]]:
    """Yield the center of each curved slot with the center of each of its ends."""
    at: dict[str, list[str]] = {}
    for name, curve in part.curves.items():
        if isinstance(curve, ArcCurve) and curve.role == "outline":
            for end in curve.ends:
                at.setdefault(end, []).append(name)
    for name in caps(part):
        cap = part.curves[name]
        assert isinstance(cap, ArcCurve)
        beside = [other for end in cap.ends for other in at[end] if other != name]
        centers = {part.curves[other].points[-1] for other in beside}
        if len(beside) == 2 and len(centers) == 1 and cap.center not in centers:
            yield centers.pop(), cap.center
