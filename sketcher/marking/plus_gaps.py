"""Whether the plus of a center is clear: a dash across it each way, and a gap on all four sides."""

from __future__ import annotations

from math import sin
from typing import Literal, TypeAlias

from sketcher.marking.carrier_spans import CarrierSpan, united
from sketcher.marking.center_evidence import CROSS, CenterEvidence
from sketcher.marking.center_runs import ON, CenterRun
from sketcher.marking.wanted_centers import WantedCenter

PlusFault: TypeAlias = Literal["", "gap", "side"]
"""Nothing; no dash runs across the center; a side has no gap."""

SMALL = 6.0
"""Radius in mm on paper below which a line through a hole may be unbroken: common practice, no
source, as is the diameter of 12 mm (the Navy's training has "very short")."""


def plus_fault(evidence: CenterEvidence, center: WantedCenter) -> PlusFault:
    """Return what is wrong with the plus of a center; a center without two lines has none."""
    crossed = evidence.through(center)
    faults = {_fault_of(run, s, center) for run, s, angle in crossed
              if _is_judged(run) and any(abs(sin(angle - other)) >= CROSS
                                         for _, _, other in crossed)}
    return "gap" if "gap" in faults else "side" if "side" in faults else ""


def _is_judged(run: CenterRun) -> bool:
    """Leave a full circle with a line type: how its dashes fall, the viewer decides."""
    return not (run.closed and any(placed.stroke.typed for placed in run.strokes))


def _fault_of(run: CenterRun, s: float, center: WantedCenter) -> PlusFault:
    dash = next(((low, high) for low, high in _around(run)
                 if low - ON <= s <= high + ON), None)
    if dash is None:
        return "gap"
    room = center.radius - ON
    open_sides = [s - dash[0] < room, dash[1] - s < room]
    if center.radius < SMALL:
        # one that ends within the hole is too short, and no gap is there
        ends = (open_sides[0] and dash[0] <= run.low + ON) or (
            open_sides[1] and dash[1] >= run.high - ON)
        typed = any(placed.stroke.typed for placed in run.strokes)
        return "" if typed or ends or open_sides[0] == open_sides[1] else "side"
    return "" if all(open_sides) else "side"


def _around(run: CenterRun) -> list[CarrierSpan]:
    """Return the dashes of a run, of a full circle thrice round: one may lie on its seam."""
    dashes = run.dashes()
    if not run.closed:
        return dashes
    turn = run.high - run.low
    return united(((low + k * turn, high + k * turn)
                   for k in (-1, 0, 1) for low, high in dashes), ON)
