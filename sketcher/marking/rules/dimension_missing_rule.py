"""A size that the paper states and that follows from nothing that the hand-in states.

Any complete set of dimensions is right, not the key's alone: what counts is the rank of what is
said (`key_motions`). A size said once holds wherever it is seen to be the same: for all rounds of
that size, and with a count or ``TYP`` for all dimensions of that value; whether the count is
written is another rule's.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import pi
from typing import TYPE_CHECKING

from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.marking.comparison import Comparison
from sketcher.marking.dimension_feet import Foot
from sketcher.marking.file_wording import FileWording
from sketcher.marking.key_measures import LengthBetween, RoundSize
from sketcher.marking.key_shape import KeyShape
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_DIMENSIONS
from sketcher.marking.paper_sayings import PaperSaying, paper_sayings, shown_pieces
from sketcher.marking.stated_dimensions import (
    StatedDimension,
    StatedDimensions,
    stated_dimensions,
)
from sketcher.part.kinds import KINDS, wanted
from sketcher.part.printed import printed
from sketcher.part.whole import curve_value, middle

if TYPE_CHECKING:
    from sketcher.marking.key_motions import Floats


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the sizes that nobody says, each in the words of the key's own dimension."""
    stated = stated_dimensions(comparison)
    if stated is None:
        return NO_DIMENSIONS
    shape = comparison.shape
    drawn = {shape.pieces[source].id for number, _ in comparison.matching.pairs
             for source in shape.found[number].sources}
    missing = stated.motions.unsaid(list(said_rows(stated)),
                                    sorted(drawn & shown_pieces(comparison.key)))
    sayings = dict.fromkeys(saying_of_key(comparison.key, name) for name in missing)
    return tuple(sorted((_mistake(said) for said in sayings), key=lambda each: each.at))


def said_rows(stated: StatedDimensions) -> Iterator[Floats]:
    """Yield what each dimension and note of a hand-in holds of the key."""
    for each in stated.each:
        if not each.drives or each.wording is None:
            continue
        if each.measure is not None:
            yield stated.row(each.measure)
        if isinstance(each.measure, RoundSize) and each.drawn is not None:
            yield from _rounds(stated, each.drawn / each.measure.factor)
        if isinstance(each.measure, LengthBetween):
            yield from _in_line(stated, each.measure)
        value = each.wording.said.value
        if value is None:
            continue
        if each.measure is None:
            # in a detail view, or beside what it means: what it says counts
            yield from _worded(stated, each)
        elif each.wording.said.bevel is not None:
            yield from _bevels(stated, value * stated.factor)
        elif (each.wording.said.count > 1 or each.wording.everywhere) and not each.is_round:
            yield from _like_values(stated, each.is_angle,
                                    value * (1.0 if each.is_angle else stated.factor))
    for note, _ in stated.notes:
        yield from _noted(stated, note)


def _worded(stated: StatedDimensions, each: StatedDimension) -> Iterator[Floats]:
    size = stated.value(each)
    if size is None:
        return
    if each.is_round:
        radius = size if each.dimension.kind == "radius" else 0.5 * size
        yield from _rounds(stated, radius)
    else:
        yield from _like_values(stated, each.is_angle, size)


def _noted(stated: StatedDimensions, note: FileWording) -> Iterator[Floats]:
    said = note.said
    if said.value is None or said.reference:
        return
    size = said.value * stated.factor
    if said.bevel is not None:
        yield from _bevels(stated, size)
    elif said.sign:
        radius = size if said.sign == "R" else 0.5 * size
        yield from _rounds(stated, radius)


def _rounds(stated: StatedDimensions, radius: float) -> Iterator[Floats]:
    for name, _ in stated.rounds_of(radius):
        yield stated.row(RoundSize(name, 1.0))


def _in_line(stated: StatedDimensions, measure: LengthBetween) -> Iterator[Floats]:
    """Yield the same length to all holes and slot ends in line with one that it is taken to.

    One dimension holds for all that are on one center line (common practice, no source).
    """
    way = measure.direction(stated.key)
    for n, foot in enumerate(measure.feet):
        at = foot.at(stated.key)
        if way is None or at is None or foot.sort != "center" or not _is_marked(
                stated.key.curves[foot.of[0]]):
            continue
        for name, curve in stated.rounds:
            if name in foot.of or not _is_marked(curve):
                continue
            dx, dy = curve.center[0] - at[0], curve.center[1] - at[1]
            if abs(dx * way[0] + dy * way[1]) <= stated.comparison.within:
                other = Foot("center", (name,), 0.0)
                feet = (other, measure.feet[1]) if n == 0 else (measure.feet[0], other)
                yield stated.row(replace(measure, feet=feet))


def _is_marked(curve: Curve) -> bool:
    """Whether a round has a center mark: a hole, or an end of half a turn."""
    return isinstance(curve, Circle) or (
        isinstance(curve, Arc) and abs(curve.sweep) >= pi - 1e-9)


def _bevels(stated: StatedDimensions, size: float) -> Iterator[Floats]:
    """Yield both legs of the chamfers of a size."""
    within = stated.comparison.within
    for name in stated.outline:
        curve = stated.key.curves[name]
        if not isinstance(curve, Line):
            continue
        legs = [abs(curve.end[k] - curve.start[k]) for k in (0, 1)]
        if min(legs) > within and min(abs(leg - size) for leg in legs) <= within:
            ends = (Foot("end", (name,), 0.0), Foot("end", (name,), 1.0))
            for way in ((1.0, 0.0), (0.0, 1.0)):
                yield stated.row(LengthBetween(ends, way))


def _like_values(stated: StatedDimensions, is_angle: bool, value: float) -> Iterator[Floats]:
    part, within = stated.comparison.shape.part, stated.comparison.within
    names = []
    for name, binding in part.bindings.items():
        if KINDS[binding.kind].quantity == ("angle" if is_angle else "length"):
            found = wanted(part, binding)
            if found is not None and abs(abs(found) - value) <= within:
                names.append(name)
    yield from stated.motions.owned(names)


def _mistake(said: PaperSaying) -> Mistake:
    what = said.text.partition(" ±")[0]
    return Mistake(said.at, "", what, f"{what} is not stated and follows from no other dimension")


def saying_of_key(key: KeyShape, name: str) -> PaperSaying:
    """Return how the paper says one of the key's own dimensions, be it only by the binding."""
    said = paper_sayings(key).get(name)
    if said is not None:
        return said
    part = key.part
    if name not in part.bindings:
        pattern = part.patterns[name.partition(".")[0]]
        at = middle(curve_value(part, part.curves[pattern.curves[0]]))
        return PaperSaying(name, "the step of the pattern", at)
    binding = part.bindings[name]
    places = [part.points[of] if of in part.points else middle(curve_value(part, part.curves[of]))
              for of in binding.of]
    at = (sum(x for x, _ in places) / len(places), sum(y for _, y in places) / len(places))
    return PaperSaying(name, KINDS[binding.kind].prefix + printed(part, binding).text, at)


RULE = MarkingRule("dimension-missing", "a size that no dimension states", 2.0, 10.0, "dimensions",
                   decide, rank=0)
