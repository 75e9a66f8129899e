"""The other tangent, the other side, another number of places in a pattern."""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.key_changes import KeyChange
from sketcher.marking.marking_rule import MarkingRule, Mistake
from sketcher.marking.outline_words import operand_place
from sketcher.marking.slip import Slip
from sketcher.part.kinds import KINDS


def decide(comparison: Comparison) -> tuple[Mistake, ...]:
    """Return where one of several possible ways was taken that the paper does not show."""
    mistakes = [_changed(comparison, change) for change in comparison.changes
                if change.sort in ("side", "count")]
    mistakes += [_drawn(comparison, slip) for slip in comparison.pieces.of("wrong-branch")]
    return tuple(sorted(mistakes, key=lambda each: each.at))


def _changed(comparison: Comparison, change: KeyChange) -> Mistake:
    if change.sort == "count":
        return _count(comparison, change)
    words, part = comparison.words, comparison.shape.part
    binding = part.bindings[change.name]
    kind = KINDS[binding.kind]
    names = [words.operand(name) for name in binding.of]
    if len(names) < 2:
        text = f"{names[0]} lies the other way"
    elif kind.joins:
        text = f"{names[0]} touches {names[-1]} on the other side"
    elif kind.quantity == "angle":
        text = f"{names[-1]} is turned to the other side of {names[0]}"
    else:
        text = f"{names[-1]} lies on the other side of {names[0]}"
    return Mistake(operand_place(part, binding.of), change.found, change.wanted, text)


def _count(comparison: Comparison, change: KeyChange) -> Mistake:
    pattern_id, _, *axis = change.name.split(".")
    pattern = comparison.key.part.patterns[pattern_id]
    words = comparison.words
    name = words.of_curve(pattern.curves[0])
    way = "" if not axis else " in a row" if axis[0] == "0" else " in a column"
    at = operand_place(comparison.shape.part, pattern.curves[:1])
    return Mistake(at, change.found, change.wanted,
                   f"{name} stands {change.found} times{way}, not {change.wanted} times")


def _drawn(comparison: Comparison, slip: Slip) -> Mistake:
    words = comparison.pieces.words
    name = words.feature(slip.keys[0])
    text = f"{name} goes the other way round" if slip.word == "round" else (
        f"{name} bulges to the other side")
    return Mistake(slip.at, "the other side", "", text, comparison.pieces.entities(slip),
                   slip.count)


RULE = MarkingRule("wrong-branch", "the other tangent or side", 4.0, 8.0,
                   "outline", decide, rank=14)
