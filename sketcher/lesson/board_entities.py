"""The things of a drawing board: points, lines, and rounds as openings of the compass."""

from __future__ import annotations

from sketcher.part.operand_forms import Slot
from sketcher.part.value import LineCurve, Part

Entity = tuple[str, str]  # ("point" | "line" | "round", id)


def entity_of(slot: Slot) -> Entity:
    """Return the thing to which an unknown belongs."""
    name, axis = slot
    return ("point" if axis in "xy" else "round" if axis == "r" else "line"), name


def entities(part: Part) -> list[Entity]:
    """Every point, line and round, in the order in which the curves name them."""
    order: dict[Entity, None] = {}
    for name, curve in part.curves.items():
        first, *rest = curve.points
        order[("point", first)] = None
        order[("line" if isinstance(curve, LineCurve) else "round", name)] = None
        order.update(dict.fromkeys(("point", p) for p in rest))
    order.update(dict.fromkeys(("point", p) for p in part.points))
    return list(order)
