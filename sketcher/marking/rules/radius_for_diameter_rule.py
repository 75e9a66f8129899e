"""A full circle, or an arc of more than half a turn, with its radius instead of its diameter.

Circles and arcs beyond 180° have diameters, other arcs radii (ISO 129-1 and ASME Y14.5, both from
memory).
"""

from __future__ import annotations

from math import pi

from sketcher.geometry.curves import Arc, Circle
from sketcher.marking.comparison import Comparison
from sketcher.marking.key_measures import RoundSize
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_DIMENSIONS
from sketcher.marking.stated_dimensions import StatedDimension, stated_dimensions
from sketcher.marking.wanted_words import number_words

HALF = pi + 0.01
"""Radians beyond which an arc is more than half a turn, with the slack of two tangent joints."""


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the radii that stand at circles."""
    stated = stated_dimensions(comparison)
    if stated is None:
        return NO_DIMENSIONS
    found = []
    for each in stated.each:
        if _is_radius(each) and isinstance(each.measure, RoundSize) and _is_full(
                comparison, each.measure.piece):
            size = each.drawn or 0.0
            wanted = "Ø" + number_words(comparison, 2.0 * size)
            found.append(Mistake(each.at, each.dimension.text, wanted,
                                 f"a full circle has its diameter: {wanted}",
                                 (each.dimension.number,)))
    return tuple(sorted(found, key=lambda mistake: mistake.at))


def _is_radius(each: StatedDimension) -> bool:
    sign = "" if each.wording is None else each.wording.said.sign
    return sign == "R" or (each.dimension.kind == "radius" and sign != "Ø")


def _is_full(comparison: Comparison, piece: str) -> bool:
    shape = comparison.shape
    for feature in shape.found:
        if any(shape.pieces[source].id == piece for source in feature.sources):
            curve = feature.curve
            return isinstance(curve, Circle) or (isinstance(curve, Arc) and abs(curve.sweep) > HALF)
    return False


RULE = MarkingRule("radius-for-diameter", "a circle with its radius", 2.0, 4.0, "dimensions",
                   decide, rank=4)
