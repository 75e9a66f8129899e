"""Curves that are drawn twice."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.mend import Defect, Mend, MendStep
from sketcher.inspect.survey import Survey
from sketcher.part.mirror import same_place
from sketcher.part.value import Part
from sketcher.part.whole import Piece, middle


def twins(survey: Survey) -> Iterator[tuple[Piece, Piece]]:
    """Yield pairs of drawn curves that cover the same place, each later one once."""
    drawn = sorted((p for p in survey.pieces if p.drawn), key=lambda p: middle(p.curve)[0])
    gone: set[str] = set()
    for k, one in enumerate(drawn):
        for other in drawn[k + 1:]:
            if middle(other.curve)[0] - middle(one.curve)[0] > survey.tol:
                break
            if one.id in gone or other.id in gone:
                continue
            if same_place(one.curve, other.curve, survey.tol):
                keep, go = _ranked(survey.part, one, other)
                gone.add(go.id)
                yield keep, go


def _ranked(part: Part, one: Piece, other: Piece) -> tuple[Piece, Piece]:
    """Return the curve that more is bound to first; among equals the one drawn first."""
    said = {p.id: sum(p.id in b.of for b in part.bindings.values()) for p in (one, other)}
    place = {name: k for k, name in enumerate(part.curves)}
    keep, go = sorted((one, other), key=lambda p: (-said[p.id], place[p.id]))
    return keep, go


def find(survey: Survey) -> Iterator[Defect]:
    """Yield curves of which another one is a copy in place."""
    for keep, go in twins(survey):
        step = survey.first_that_works(MendStep("absorb", (keep.id, go.id)),
                                       MendStep("delete", (go.id,)))
        yield Defect("doubled", (go.id, keep.id), middle(go.curve), go.curve.length,
                     f"{go.id} is drawn over {keep.id}: the same place twice", step,
                     f"Keep {keep.id} alone")


MEND = Mend("doubled", "drawn twice", 1, find)
