"""One dimension of the key drawn with another value, with all that hangs on it."""

from __future__ import annotations

from sketcher.geometry.curves import XY
from sketcher.marking.comparison import Comparison
from sketcher.marking.key_changes import KeyChange
from sketcher.marking.marking_rule import MarkingRule, Mistake


def decide(comparison: Comparison) -> tuple[Mistake, ...]:
    """Return the values that were drawn otherwise, one mistake each."""
    mistakes = [
        Mistake(_place(comparison, change), change.found, change.wanted,
                f"{change.name} is drawn with {change.found}, not {change.wanted}")
        for change in comparison.changes if change.sort not in ("side", "count")]
    return tuple(sorted(mistakes, key=lambda each: each.at))


def _place(comparison: Comparison, change: KeyChange) -> XY:
    points = comparison.shape.part.points
    return next(iter(points.values()))


RULE = MarkingRule("wrong-value", "a dimension drawn with another value", 4.0, 16.0, "outline",
                   decide, rank=0)
