"""Step 1, second half: the curves of the chosen layers, in the part's unit."""

from __future__ import annotations

from dataclasses import replace

from sketcher.exchange.dxf_content import DxfContent
from sketcher.geometry.evaluate import scaled
from sketcher.intake.linework import Linework, TakenCurve, TakenSpline
from sketcher.intake.noise_floor import noise_floor
from sketcher.intake.telling_values import telling_values
from sketcher.intake.unit_evidence import UnitVerdict
from sketcher.intake.wishes import Wishes
from sketcher.shop.cut_layers import beside_contours


def drawn_lines(content: DxfContent, unit: UnitVerdict, wishes: Wishes) -> Linework:
    """Return the curves that are to be taken in, in the part's unit.

    Leads and punch marks of a cutting file only where their layers are asked for by name: they are
    no part of the outline.
    """
    drawn = {each.layer for each in content.curves} | {each.layer for each in content.splines}
    read = drawn - beside_contours(drawn) if wishes.layers is None else set(wishes.layers)
    curves = tuple(TakenCurve(scaled(each.curve, unit.factor), (each.entity,))
                   for each in content.curves
                   if each.layer in read)
    splines = tuple(TakenSpline(each.curve.scaled(unit.factor), (each.entity,))
                    for each in content.splines
                    if each.layer in read)
    quantum = telling_values(content).quantum
    floor = noise_floor(content, quantum)
    floor = replace(floor, size=floor.size * unit.factor)
    quantum *= unit.factor
    return Linework(curves, unit.unit, quantum, max(0.5 * quantum, floor.size), splines=splines,
                    floor=floor)
