"""A size called out once for several rounds, without the number of them, or with another.

Equal features are called out once with their count (ASME Y14.5, repeated features; ISO 129-1; both
from memory). Calling each of them out by itself counts them too.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sketcher.geometry.curves import XY, Circle, Line
from sketcher.marking.comparison import Comparison
from sketcher.marking.key_measures import RoundSize
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_DIMENSIONS
from sketcher.marking.paper_sayings import PaperSaying, paper_sayings
from sketcher.marking.stated_dimensions import StatedDimensions, stated_dimensions


@dataclass(frozen=True, slots=True)
class _Callout:
    """One callout of a size: where, its text, how many it says, which piece, its entity."""

    at: XY
    text: str
    count: int
    piece: str
    entities: tuple[int, ...]
    everywhere: bool


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the sizes whose callouts count too few or too many."""
    stated = stated_dimensions(comparison)
    if stated is None:
        return NO_DIMENSIONS
    found = []
    said = dict.fromkeys(s for s in paper_sayings(comparison.key).values()
                         if s.round is not None and s.count > 1 and s.value is not None)
    for saying in said:
        mistake = _counted(stated, saying)
        if mistake is not None:
            found.append(mistake)
    return tuple(sorted(found, key=lambda each: each.at))


def _counted(stated: StatedDimensions, saying: PaperSaying) -> Mistake | None:
    assert saying.round is not None
    names = _alike(stated, saying)
    callouts = [each for each in _callouts(stated, saying) if not each.piece or each.piece in names]
    if not callouts or any(each.everywhere for each in callouts):
        return None
    counted = sum(each.count for each in {(c.piece or c.at, c.count): c for c in callouts}.values())
    most = max(each.count for each in callouts)
    gone = _missing(stated.comparison, names)
    if most <= saying.count and counted >= saying.count - gone:
        return None
    first = min(callouts, key=lambda each: -each.count)
    return Mistake(first.at, first.text, saying.text,
                   f"{first.text} holds at {saying.count} places: {saying.text}", first.entities)


def _alike(stated: StatedDimensions, saying: PaperSaying) -> set[str]:
    """Return the pieces of the size and sort of a callout."""
    assert saying.round is not None
    is_full = isinstance(saying.round, Circle)
    return {name for name, curve in stated.rounds_of(_radius(stated, saying))
            if isinstance(curve, Circle) == is_full}


def _radius(stated: StatedDimensions, saying: PaperSaying) -> float:
    """Return the radius that the callout's round was drawn with."""
    assert saying.round is not None
    key = stated.comparison.key
    for piece in key.pieces:
        curve = piece.curve
        if not isinstance(curve, Line) and curve.center == saying.round.center and (
                curve.radius == saying.round.radius):
            drawn = stated.key.curves.get(piece.id)
            if drawn is not None and not isinstance(drawn, Line):
                return drawn.radius
    return saying.round.radius


def _callouts(stated: StatedDimensions, saying: PaperSaying) -> Iterator[_Callout]:
    for each in stated.each:
        words = each.wording
        if isinstance(each.measure, RoundSize) and (words is None or not words.said.reference):
            yield _Callout(each.at, each.dimension.text, 1 if words is None else words.said.count,
                           each.measure.piece, (each.dimension.number,),
                           words is not None and words.everywhere)
    radius = _radius(stated, saying)
    for note, at in stated.notes:
        said = note.said
        if said.value is None or said.sign == "":
            continue
        size = said.value * stated.factor * (1.0 if said.sign == "R" else 0.5)
        if abs(size - radius) <= stated.comparison.within and (
                (said.sign == "Ø") == isinstance(saying.round, Circle)):
            sign = "" if said.count == 1 else f"{said.count}x "
            yield _Callout(stated.comparison.laid_point(at), f"{sign}{said.sign}{said.value:g}",
                           said.count, "", (), note.everywhere)


def _missing(comparison: Comparison, names: set[str]) -> int:
    """Return how many rounds of a size the hand-in does not have: they need not be counted."""
    shape = comparison.shape
    return sum(any(shape.pieces[source].id in names for source in shape.found[number].sources)
               for number in comparison.matching.missing)


RULE = MarkingRule("count-missing", "a size without the number of places", 1.0, 3.0, "dimensions",
                   decide, rank=5)
