"""Whether a hand-in was drawn with the values of another student: told, never deducted for."""

from __future__ import annotations

from collections.abc import Mapping

from sketcher.marking.comparison import Comparison
from sketcher.marking.key_changes import changed
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part
from sketcher.part.wanted import evaluator

LEAST_VALUES = 2
"""Wrong values from which on it is asked: one is as often a slip (common practice, no source)."""


def number_with_values(comparison: Comparison, keys: Mapping[str, Part]) -> str:
    """Return the first number whose key has just the values that a hand-in was drawn with.

    Nothing is solved: the values that the wrong ones make of the own key are set beside those of
    each other. Empty where fewer than two are wrong, or nobody has them.
    """
    values = [each for each in comparison.changes if each.sort in ("dimension", "parameter")]
    if len(values) < LEAST_VALUES or len(values) < len(comparison.changes):
        return ""
    own = comparison.key.part
    drawn = _driving_values(changed(own, values))
    return next((number for number, part in keys.items()
                 if number and part is not own and part.unit == own.unit
                 and _same(_driving_values(part), drawn, comparison)), "")


def _same(
    one: Mapping[str, float], other: Mapping[str, float], comparison: Comparison
) -> bool:
    bindings = comparison.key.part.bindings
    return one.keys() == other.keys() and all(
        abs(one[name] - other[name]) <= (
            comparison.within_angle if KINDS[bindings[name].kind].quantity == "angle"
            else comparison.within) for name in one)


def _driving_values(part: Part) -> Mapping[str, float]:
    """Return the value of each dimension that drives."""
    value = evaluator(part)
    return {name: value(name, binding, KINDS[binding.kind].quantity or "any")
            for name, binding in part.bindings.items() if binding.drives and binding.value}
