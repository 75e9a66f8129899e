"""A part that is not drawn at its true size, where the drawing does not say so."""

from __future__ import annotations

from sketcher.geometry.bounds import bounds_of
from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake
from sketcher.marking.scale_told import EQUAL, scale_told, scales_said


def decide(comparison: Comparison) -> tuple[Mistake, ...]:
    """Return that the part is drawn at another scale than 1:1 and than the drawing's words say.

    A scale in the words of a part that is drawn at true size is that of the sheet: nothing in the
    file can be wrong with it.
    """
    told = scale_told(comparison)
    if abs(told.drawn - 1.0) <= EQUAL or any(
            abs(told.drawn / said - 1.0) <= EQUAL for said in scales_said(comparison.hand_in)):
        return ()
    x, y, *_ = bounds_of(each.curve for each in comparison.outline)
    return (Mistake((x, y), told.ratio, "1:1",
                    f"the part is drawn {told.ratio}, and nothing on the drawing says so"),)


RULE = MarkingRule("scale", "not drawn at true size or the scale that is told", 2.0, 2.0, "sheet",
                   decide, rank=1)
