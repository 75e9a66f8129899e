"""Curves without length."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.mend import Defect, Mend, MendStep
from sketcher.inspect.survey import Survey
from sketcher.inspect.words import length
from sketcher.part.value import CircleCurve
from sketcher.part.whole import middle


def find(survey: Survey) -> Iterator[Defect]:
    """Yield curves that are too short to be anything: their ends become one point."""
    part = survey.part
    for piece in survey.specks:
        if not piece.drawn:
            continue
        curve = part.curves[piece.id]
        size = piece.curve.length
        text = f"{piece.id} has no length ({length(size, part.unit)})" if size \
            else f"{piece.id} has no length"
        step = MendStep("delete", (piece.id,))
        if not isinstance(curve, CircleCurve):
            step = survey.first_that_works(MendStep("merge", curve.ends)) or step
        yield Defect("speck", (piece.id,), middle(piece.curve), size, text, step,
                     f"Take {piece.id} out and join its neighbours")


MEND = Mend("speck", "no length", 0, find)
