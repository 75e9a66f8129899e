"""Step 6: contours nested into parts."""

from __future__ import annotations

from sketcher.geometry.loops import find_loops
from sketcher.intake.linework import Linework, Shape, TakenCurve
from sketcher.intake.wishes import Wishes


def shapes(lines: Linework, wishes: Wishes) -> tuple[Shape, ...]:
    """Return the parts of a drawing by falling area of their outsides."""
    by_id = {str(number): each for number, each in enumerate(lines.curves)}
    found = find_loops([(name, each.curve) for name, each in by_id.items()])
    outsides = [loop for loop in found.loops if not loop.hole]
    made: list[Shape] = []
    for outside in sorted(outsides, key=lambda loop: -abs(loop.area)):
        inside = [loop for loop in found.loops if loop.hole
                  and outside.contains(loop.curves[0].start if hasattr(loop.curves[0], "start")
                                       else loop.curves[0].center)]
        chains = tuple(
            tuple(TakenCurve(curve, by_id[name].entities)
                  for name, curve in zip(loop.ids, loop.curves, strict=True))
            for loop in (outside, *inside))
        made.append(Shape(chains, (), lines.unit, lines.quantum, lines.noise, lines.repairs))
    return tuple(made)
