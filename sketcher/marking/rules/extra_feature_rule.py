"""Holes, openings and bevels that the key does not have."""

from __future__ import annotations

from sketcher.geometry.curves import Line
from sketcher.inspect.words import plural
from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake
from sketcher.marking.slip import Slip


def decide(comparison: Comparison) -> tuple[Mistake, ...]:
    """Return what is too much."""
    return tuple(_mistake(comparison, slip) for slip in comparison.pieces.of("extra-feature"))


def _mistake(comparison: Comparison, slip: Slip) -> Mistake:
    words = comparison.pieces.words
    curve = comparison.features[slip.hand[0]].curve
    found = "" if len(slip.hand) > 1 or isinstance(curve, Line) else words.size(curve)
    if slip.word == "hole":
        what = f"a hole {found} {words.where(slip.at)}"
    elif slip.word == "loop":
        what = f"an opening of {plural(len(slip.hand), 'curve')} {words.where(slip.at)}"
    elif len(slip.keys) == 1:
        what = f"a notch or lug in {words.feature(slip.keys[0])}"
    else:
        noun = "an edge" if isinstance(curve, Line) else f"an arc {found}"
        what = f"{noun} between {words.features(slip.keys)}"
    return Mistake(slip.at, found, "none", f"{what} is not on the paper",
                   comparison.pieces.entities(slip))


RULE = MarkingRule("extra-feature", "a hole, opening or edge too many", 3.0, 9.0,
                   "outline", decide, rank=5)
