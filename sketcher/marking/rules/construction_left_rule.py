"""Construction that is left standing on the outline's layer."""

from __future__ import annotations

from sketcher.geometry.curves import Circle, Line
from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake
from sketcher.marking.slip import Slip


def decide(comparison: Comparison) -> tuple[Mistake, ...]:
    """Return what construction is left."""
    return tuple(_mistake(comparison, slip) for slip in comparison.pieces.of("construction-left"))


def _mistake(comparison: Comparison, slip: Slip) -> Mistake:
    words = comparison.pieces.words
    entities = comparison.pieces.entities(slip)
    curves = [comparison.outline[n].curve for n in slip.curves] or [
        comparison.features[j].curve for j in slip.hand]
    noun = "line" if isinstance(curves[0], Line) else (
        "circle" if isinstance(curves[0], Circle) else "arc")
    if slip.word == "beneath":
        where = f"beneath {words.feature(slip.keys[0])}"
    elif slip.keys and noun == "line":
        where = f"in line with {words.feature(slip.keys[0])}"
    else:
        where = words.where(slip.at)
    text = f"a construction {noun} is left standing {where}"
    return Mistake(slip.at, "", "", text, entities)


RULE = MarkingRule("construction-left", "construction left standing", 2.0, 4.0,
                   "outline", decide, rank=12)
