"""A dimension to a sharp corner that a fillet or a chamfer took away, without the corner.

The edges are drawn on as thin lines to where they would meet, or the place is marked (ISO 129-1,
from memory). An edge that is square to the dimension shows its own level: there is nothing to be
drawn.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import dist

from sketcher.geometry.curves import XY, Line
from sketcher.geometry.project import distance
from sketcher.marking.comparison import Comparison
from sketcher.marking.dimension_feet import SQUARE
from sketcher.marking.key_measures import LengthBetween
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_DIMENSIONS
from sketcher.marking.stated_dimensions import stated_dimensions


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the lost corners that are measured and not drawn, each once."""
    stated = stated_dimensions(comparison)
    if stated is None:
        return NO_DIMENSIONS
    within = comparison.within
    seen: list[XY] = []
    found = []
    for each in stated.each:
        if not isinstance(each.measure, LengthBetween):
            continue
        way = each.measure.direction(stated.key)
        for foot in each.measure.feet:
            at = foot.at(stated.key)
            edges = () if at is None else _lost(comparison, at, way)
            if at is None or not edges or _is_shown(comparison, at, edges):
                continue
            if not any(dist(at, other) <= within for other in seen):
                seen.append(at)
                found.append(Mistake(
                    at, "", "", f"{each.dimension.text} goes to a sharp corner that is not drawn",
                    (each.dimension.number,)))
    return tuple(sorted(found, key=lambda mistake: mistake.at))


def _lost(comparison: Comparison, at: XY, way: XY | None) -> tuple[Line, ...]:
    """Return the edges that would meet at a place which none of them reaches."""
    within, edges = comparison.within, []
    for feature in comparison.shape.found:
        curve = feature.curve
        if not isinstance(curve, Line):
            if dist(curve.center, at) <= within or distance(curve, at) <= within:
                return ()
            continue
        if distance(curve, at, bounded=False) > within:
            continue
        if distance(curve, at) <= within:
            return ()
        ux, uy = curve.direction
        if way is not None and abs(ux * way[0] + uy * way[1]) <= SQUARE:
            return ()
        edges.append(curve)
    return tuple(edges) if len(edges) > 1 else ()


def _is_shown(comparison: Comparison, at: XY, edges: Sequence[Line]) -> bool:
    """Tell whether anything is drawn at a place that is none of the outline.

    In a dimension's own picture that must run along an edge: an extension line ends there anyhow.
    """
    within, laid = comparison.within, comparison.pose.curve
    if any(distance(laid(each.curve), at) <= within for each in comparison.hand_in.curves
           if each.role != "sheet"):
        return True
    for dimension in comparison.hand_in.dimensions:
        for stroke in dimension.strokes:
            line = laid(stroke)
            if isinstance(line, Line) and distance(line, at) <= within and any(
                    _is_along(line, edge) for edge in edges):
                return True
    return False


def _is_along(line: Line, edge: Line) -> bool:
    (ax, ay), (bx, by) = line.direction, edge.direction
    return abs(ax * by - ay * bx) <= SQUARE


RULE = MarkingRule("sharp-not-shown", "a lost corner that is measured and not drawn", 2.0, 4.0,
                   "dimensions", decide, rank=11)
