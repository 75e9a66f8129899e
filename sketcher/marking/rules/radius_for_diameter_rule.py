"""A full circle with its radius instead of its diameter.

Circles have diameters, arcs radii (ISO 129-1 and ASME Y14.5, both from memory). The first also
wants a diameter beyond half a turn; the rounded end of an ear has its radius all the same in common
practice (no source), so that is not held against anybody.
"""

from __future__ import annotations

from sketcher.geometry.curves import Circle
from sketcher.marking.comparison import Comparison
from sketcher.marking.key_measures import RoundSize
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_DIMENSIONS
from sketcher.marking.stated_dimensions import StatedDimension, stated_dimensions
from sketcher.marking.wanted_words import number_words


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
            return isinstance(feature.curve, Circle)
    return False


RULE = MarkingRule("radius-for-diameter", "a circle with its radius", 2.0, 4.0, "dimensions",
                   decide, rank=4)
