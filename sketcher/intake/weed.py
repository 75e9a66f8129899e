"""Step 3: specks, doubles, overlaps and seams are taken out of a drawing."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.geometry.bounds import tolerance
from sketcher.geometry.chain import goes_round, nodes
from sketcher.geometry.curves import Arc, Circle, Curve
from sketcher.geometry.evaluate import midpoint
from sketcher.intake.linework import Linework, Repair, TakenCurve, gathered, repair_name
from sketcher.intake.overlaid import laid_over
from sketcher.intake.seams import joined
from sketcher.intake.wishes import Wishes
from sketcher.part.value import Unit

GAPS: dict[Unit, float] = {"mm": 0.05, "in": 0.002}
"""Widest gap that is closed unasked (common practice, no source: half of what a thermal cutter
holds, and far below the smallest edge that is drawn on purpose)."""


def weeded(lines: Linework, wishes: Wishes) -> Linework:
    """Return the drawing without specks, doubles, overlaps and seams."""
    one = one_place(lines)
    return tidied(lines, wishes, one, one)


def one_place(lines: Linework) -> float:
    """Return the length within which two readings of one place can differ.

    A coordinate is off by at most half the last decimal, so a point by 0.71 of it and two readings
    by 1.42: one and a half decimals hold them. Where the noise is larger than half a decimal, it
    is the same with three times the noise. It is never more than the widest gap that is closed
    unasked: a drawing with few decimals may be small.
    """
    return max(min(max(1.5 * lines.quantum, 3.0 * lines.noise), GAPS[lines.unit]),
               tolerance(each.curve for each in lines.curves))


def tidied(lines: Linework, wishes: Wishes, one: float, off: float) -> Linework:
    """Return the drawing without what is there twice, in pieces, or without length.

    Parameters
    ----------
    lines : Linework
    wishes : Wishes
    one : float
        Places within this length are one.
    off : float
        Curves lie on each other, or are one, when they leave each other by no more.
    """
    curves: Sequence[TakenCurve] = [
        TakenCurve(whole_turn(each.curve), each.entities) for each in lines.curves]
    curves, told = _without_specks(curves, wishes, one, off)
    curves, repairs = laid_over(curves, wishes, one, off, GAPS[lines.unit])
    told += repairs
    curves, repairs = joined(curves, wishes, one, off)
    told += repairs
    # What a person refused the first time is found again the second: it is told once.
    refused = {repair.name for repair in lines.repairs if not repair.taken}
    return lines.repaired(curves, (each for each in gathered(told) if each.name not in refused))


def whole_turn(curve: Curve) -> Curve:
    """Return a circle for an arc that goes all the way round."""
    return Circle(curve.center, curve.radius) if isinstance(curve, Arc) and goes_round(
        curve) else curve


def _without_specks(
    curves: Sequence[TakenCurve], wishes: Wishes, one: float, off: float
) -> tuple[list[TakenCurve], list[Repair]]:
    """Leave out what is no longer than one place is wide, or than ends are off if it ends freely.

    What joins two curves stays, so that no gap comes in its place.
    """
    kept, told = [], []
    net = nodes([each.curve for each in curves], one)
    for each, ends in zip(curves, net.ends, strict=True):
        curve = each.curve
        free = any(node >= 0 and len(net.at[node]) == 1 for node in ends)
        long = 2.0 * curve.radius if isinstance(curve, Circle) else curve.length
        if long > (off if free else one):
            kept.append(each)
            continue
        taken = wishes.makes("speck", repair_name("speck", each.entities))
        told.append(Repair("speck", midpoint(curve), 0.0, each.entities,
                           "has no length; taken out", taken, (curve,)))
        if not taken:
            kept.append(each)
    return kept, told
