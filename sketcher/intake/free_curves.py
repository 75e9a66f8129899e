"""Free curves (splines, ellipses) become arcs.

A part has lines, arcs and circles alone, so that a free curve cannot be kept as such: refused, it
is followed a hundred times closer.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from sketcher.geometry.biarcs import furthest, spline_arcs
from sketcher.geometry.curves import Arc, Curve, Line
from sketcher.geometry.evaluate import midpoint
from sketcher.geometry.spline import Spline
from sketcher.intake.linework import Linework, Repair, TakenCurve, repair_name
from sketcher.intake.wishes import Wishes
from sketcher.part.value import Unit
from sketcher.progress import counted

KIND = "curve"
CHORD: dict[Unit, float] = {"mm": 0.01, "in": 0.0005}
"""How far arcs may lie from the free curve: a fifth of what cutters of plate repeat to, so that
nobody sees it on the part (common practice, no source)."""
CLOSER = 0.01


def free_curves_to_arcs(lines: Linework, wishes: Wishes) -> Linework:
    """Return the drawing with arcs in place of free curves."""
    within = chord_of(lines.unit, wishes)
    curves: list[TakenCurve] = []
    repairs: list[Repair] = []
    for free in counted(lines.splines):
        taken = wishes.makes(KIND, repair_name(KIND, free.entities))
        arcs = spline_arcs(free.curve, within)
        closer = _closer(free.curve, CLOSER * within)
        if not arcs:
            continue
        if taken:
            kept, off = arcs, furthest(free.curve, arcs)
            text = f"a free curve, made {_said(arcs)}"
        else:
            kept = list(closer)
            off = furthest(free.curve, kept)
            text = f"a free curve, followed by {_said(kept)}, a hundred times closer than asked"
        curves += [TakenCurve(each, free.entities) for each in kept]
        repairs.append(Repair(KIND, midpoint(arcs[len(arcs) // 2]), off, free.entities, text, taken,
                              closer, tuple(arcs)))
    return replace(lines.repaired((*lines.curves, *curves), repairs), splines=())


def chord_of(unit: Unit, wishes: Wishes) -> float:
    """Return how far arcs may lie from what they replace, in the part's unit."""
    return wishes.chord if wishes.chord is not None else CHORD[unit]


def as_drawn(lines: Linework, wishes: Wishes) -> tuple[TakenCurve, ...]:
    """Return everything that is drawn, free curves followed a hundred times closer than asked."""
    within = CLOSER * chord_of(lines.unit, wishes)
    return (*lines.curves, *(TakenCurve(each, free.entities) for free in lines.splines
                             for each in _closer(free.curve, within)))


@lru_cache(maxsize=1024)
def _closer(curve: Spline, within: float) -> tuple[Line | Arc, ...]:
    """Return the arcs that stand for the free curve itself, followed once for each drawing."""
    return tuple(spline_arcs(curve, within))


def _said(arcs: Sequence[Curve]) -> str:
    return f"{len(arcs)} arcs" if len(arcs) > 1 else "one arc or line"
