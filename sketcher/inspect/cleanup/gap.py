"""Ends that nearly meet: short of each other, or a little past the curve they should end on.

Of two loose ends the unnamed one moves: a gap between an end that bindings name and one that none
names closes at the first; between equals both curves keep their direction and meet in a corner.
What crosses the whole outline is named and left.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import dist

from sketcher.errors import GeometryError
from sketcher.geometry.corner_blends import corner_of
from sketcher.geometry.curves import XY, Circle
from sketcher.geometry.evaluate import midpoint
from sketcher.geometry.near_misses import Miss
from sketcher.inspect.mend import Defect, Mend, MendStep
from sketcher.inspect.survey import Survey
from sketcher.inspect.words import length
from sketcher.part.whole import Piece

FAR = 4.0
"""How many gaps away two curves may cross for their crossing to be the corner that was meant."""


def find(survey: Survey) -> Iterator[Defect]:
    """Yield near misses of drawn ends, the widest last."""
    by_id = {piece.id: piece for piece in survey.pieces}
    past = {(m.a, m.b) for m in survey.misses if m.kind == "overrun"}
    told: set[frozenset[str]] = set()
    for miss in survey.misses:
        a, b = by_id[miss.a], by_id[miss.b]
        at, to = miss.at, miss.to
        if not a.drawn and b.drawn and miss.ends:
            a, b, at, to = b, a, to, at
        both = miss.kind == "overrun" and (miss.b, miss.a) in past
        if not a.drawn or (both and frozenset((a.id, b.id)) in told):
            continue
        told.add(frozenset((a.id, b.id)))
        steps, offer = _steps(survey, miss, a, b, at, to, both)
        step = survey.first_that_works(*steps)
        size = length(miss.size, survey.part.unit)
        own = b.source == a.source
        other = "its own reflection" if own else b.id
        text = f"{a.id} and {other} nearly meet: the gap is {size}" if miss.kind == "gap" \
            else f"{a.id} runs {size} past {other}"
        ids = (a.id,) if own or not b.drawn else (a.id, b.id)
        yield Defect("gap", ids, at, miss.size, text, step, offer if step else "")


def _steps(
    survey: Survey, miss: Miss, a: Piece, b: Piece, at: XY, to: XY, both: bool
) -> tuple[list[MendStep], str]:
    """Return the edits that may mend a miss, the best first, and what they do."""
    if b.source == a.source or not b.drawn:
        axis = survey.axis_of(b) if b.source == a.source else None
        if axis is None:
            return [], ""
        edit = "extend" if miss.kind == "gap" else "cut_back"
        return ([MendStep(edit, (a.id, at, (axis,))), MendStep("cut_back", (a.id, at, (axis,)))],
                f"Let {a.id} end on the axis {axis}")
    if miss.kind == "overrun":
        cut = MendStep("cut_back", (a.id, at, (b.id,)))
        if both:
            return [_corner(a, b, to), cut], f"Bring {a.id} and {b.id} to a corner"
        return [cut], f"Cut {a.id} back to {b.id}"
    if not miss.ends:
        return [MendStep("extend", (a.id, at, (b.id,)))], f"Extend {a.id} to {b.id}"
    return _together(survey, a, b, at, to, miss.size), f"Bring {a.id} and {b.id} together"


def _together(
    survey: Survey, a: Piece, b: Piece, at: XY, to: XY, size: float
) -> list[MendStep]:
    """Return how two loose ends become one point.

    An end that no binding names comes to one that is named: that is where the drawing says. Among
    equals both curves keep their direction and meet in a corner, or where they have none half way.
    """
    between = (0.5 * (at[0] + to[0]), 0.5 * (at[1] + to[1]))
    corner = [_corner(a, b, between)] if _cross_near(a, b, between, size) else []
    one, other = (_end_at(survey, piece, place) for piece, place in ((a, at), (b, to)))
    if one is None or other is None or one == other:
        return corner
    if any({one, other} == set(binding.of) for binding in survey.part.bindings.values()):
        # What measures the gap itself goes with it.
        return [MendStep("merge", (one, other)), *corner]
    if (one in survey.named) != (other in survey.named):
        return [MendStep("merge", (one, other) if one in survey.named else (other, one)), *corner]
    return [*corner, MendStep("merge", (one, other), (("at", between),))]


def _corner(a: Piece, b: Piece, near: XY) -> MendStep:
    return MendStep("corner", (a.id, b.id), (("near", near), ("keep_a", midpoint(a.curve)),
                                         ("keep_b", midpoint(b.curve))))


def _cross_near(a: Piece, b: Piece, near: XY, size: float) -> bool:
    try:
        corner = corner_of(a.curve, b.curve, near)
    except GeometryError:
        return False
    return dist(corner, near) <= FAR * size


def _end_at(survey: Survey, piece: Piece, at: XY) -> str | None:
    curve = survey.part.curves[piece.id]
    if isinstance(piece.curve, Circle) or curve.kind == "circle":
        return None
    return min(curve.points[:2], key=lambda p: dist(survey.part.points[p], at))


MEND = Mend("gap", "not quite joined", 3, find)
