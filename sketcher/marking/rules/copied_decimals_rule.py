"""A value computed by hand and copied into a part file, where the paper's value was wanted.

38.1051 instead of ``44*cos(30)``: the part then follows nothing, and is off by what was cut. Such a
value is known by decimals that no paper has and that no value of the key has (common practice, no
source).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from sketcher.drafting.measured import shown_factor
from sketcher.geometry.curves import XY
from sketcher.marking.comparison import Comparison
from sketcher.marking.handed_words import HandedWords
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_PART_FILE
from sketcher.part.kinds import KINDS, measure, wanted
from sketcher.part.value import Part
from sketcher.part.whole import curve_value, middle
from sketcher.quantity.parameters import evaluate_all

MOST = {"mm": 2, "in": 4}
"""Decimals that a paper has (common practice, no source)."""
MOST_DEGREES = 2
NEAR = 1e-9
"""Share within which two values are one."""
PARTS = 64
"""Of an inch or millimetre: 0.15625 is 5/32 written out, not computed."""

_PLAIN = re.compile(r"\s*\d*\.(\d+)\s*(?:mm|in|\"|°|deg)?\s*", re.IGNORECASE)


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the values that look computed, one mistake for each."""
    part = comparison.hand_in.part
    if part is None:
        return NO_PART_FILE
    known = tuple(_key_values(comparison.key.part))
    drawn_so = [float(change.found) for change in comparison.changes
                if _PLAIN.fullmatch(change.found)]
    found = []
    words = HandedWords(comparison, part)
    for name, (text, is_angle, value) in _typed(part).items():
        if not _looks_computed(text, is_angle, value, part.unit) or any(
                abs(value - other) <= NEAR * max(abs(other), 1.0)
                for other in (*known, *drawn_so)):
            continue
        at = comparison.laid_point(_place(part, name))
        found.append(Mistake(at, text, "", f"{words.value(name)} has the value {text}, computed by "
                                           "hand and not taken from the paper"))
    return tuple(sorted(found, key=lambda mistake: mistake.at))


def _typed(part: Part) -> dict[str, tuple[str, bool, float]]:
    """Return the plain numbers that drive a part, by binding or parameter."""
    found = {}
    for name, binding in part.bindings.items():
        value = wanted(part, binding)
        if binding.drives and binding.value is not None and value is not None:
            found[name] = (binding.value, KINDS[binding.kind].quantity == "angle", value)
    values = evaluate_all(part.parameters, part.unit)
    for name, text in part.parameters.items():
        found[name] = (text, False, float(values[name].amount))
    return found


def _looks_computed(text: str, is_angle: bool, value: float, unit: str) -> bool:
    plain = _PLAIN.fullmatch(text)
    if plain is None or len(plain[1].rstrip("0")) <= (MOST_DEGREES if is_angle else MOST[unit]):
        return False
    return abs(PARTS * value - round(PARTS * value)) > 1e-9


def _key_values(part: Part) -> Iterator[float]:
    """Yield what the key says, and twice and half of it: it may be drawn whole or half."""
    for name, binding in part.bindings.items():
        if binding.value is None or _PLAIN.fullmatch(binding.value) is None:
            continue  # what the key computes nobody may copy
        value = abs(wanted(part, binding) or measure(part, binding))
        yield from (value, 2.0 * value, 0.5 * value, value * shown_factor(part, name))
    for text in part.parameters.values():
        if _PLAIN.fullmatch(text):
            yield float(evaluate_all({"value": text}, part.unit)["value"].amount)


def _place(part: Part, name: str) -> XY:
    if name not in part.bindings:
        return next(iter(part.points.values()), (0.0, 0.0))
    of = part.bindings[name].of[0]
    return part.points[of] if of in part.points else middle(curve_value(part, part.curves[of]))


RULE = MarkingRule("copied-decimals", "values computed by hand", 2.0, 6.0, "part file", decide,
                   rank=1)
