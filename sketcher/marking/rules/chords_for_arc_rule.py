"""Arcs and circles drawn as straight pieces."""

from __future__ import annotations

from sketcher.inspect.words import plural
from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake


def decide(comparison: Comparison) -> tuple[Mistake, ...]:
    """Return the arcs that are drawn in chords, as one mistake: they are one habit."""
    slips = comparison.pieces.of("chords-for-arc")
    if not slips:
        return ()
    words = comparison.pieces.words
    first = slips[0]
    name = words.feature(first.keys[0]) if first.keys else f"an arc {words.where(first.at)}"
    count = plural(round(first.amount), "chord")
    more = f", and {plural(len(slips) - 1, 'other arc')} too" if len(slips) > 1 else ""
    entities = tuple(sorted({e for slip in slips for e in comparison.pieces.entities(slip)}))
    return (Mistake(first.at, count, "an arc", f"{name} is drawn as {count}{more}", entities,
                    len(slips)),)


RULE = MarkingRule("chords-for-arc", "chords in place of an arc", 3.0, 3.0,
                   "outline", decide, rank=10)
