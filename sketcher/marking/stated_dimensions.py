"""What the dimensions of a hand-in state, mapped onto the key: between what, how large it is there.

A dimension is kept as a measure between feet of the key (`dimension_feet`), so that it can be
looked up in the key as it was drawn (what should it say?) and in the key as it moves (what does it
hold?).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import cos, dist, radians, sin
from typing import TYPE_CHECKING

from sketcher.exchange.dxf_content import FileDimension
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.project import distance
from sketcher.geometry.vectors import normalized
from sketcher.marking.dimension_feet import Foot, FootFinder, standing
from sketcher.marking.file_wording import FileWording, file_wording
from sketcher.marking.key_measures import (
    AngleBetween,
    AngleSide,
    LengthBetween,
    PitchSize,
    RoundSize,
    SizeMeasure,
)
from sketcher.marking.key_motions import KeyMotions, motions_of
from sketcher.marking.paper_millimetres import paper_mm
from sketcher.part.part_size import part_size

if TYPE_CHECKING:
    from sketcher.marking.comparison import Comparison
    from sketcher.marking.key_motions import Floats

ROUND = ("radius", "diameter")
REACH = 1.0
"""Millimetres on paper within which a definition point is taken for a place that it misses."""
LEAST_REACH = 0.02
"""Of the size of the part: the reach is never more."""


@dataclass(frozen=True, slots=True)
class StatedDimension:
    """One dimension of a hand-in.

    Parameters
    ----------
    dimension : FileDimension
    wording : FileWording or None
        What it says; None where that is no size.
    measure : callable or None
        What it measures of the key; None where it starts from nothing of it.
    drawn : float or None
        That measure where the drawing is right, under the values it was drawn with: key's unit, or
        degrees.
    laid : float or None
        What its points are apart, or the size of its round, as they lie on the key.
    at : (x, y)
        Middle of its text, laid on the key.
    """

    dimension: FileDimension
    wording: FileWording | None
    measure: SizeMeasure | None
    drawn: float | None
    laid: float | None
    at: XY

    @property
    def is_angle(self) -> bool:
        """Whether it is in degrees."""
        return self.dimension.kind == "angular"

    @property
    def is_round(self) -> bool:
        """Whether it is a radius or a diameter."""
        return self.dimension.kind in ROUND

    @property
    def drives(self) -> bool:
        """Whether it states something: not in parentheses, with a number."""
        return (self.wording is not None and self.wording.value is not None
                and not self.wording.said.reference)

    @property
    def number(self) -> float | None:
        """What it says of what it measures, in the unit of its own numbers.

        A diameter written at a radius is halved, a radius at a diameter doubled.
        """
        if self.wording is None or self.wording.value is None:
            return None
        sign, kind = self.wording.said.sign, self.dimension.kind
        factor = 0.5 if (sign, kind) == ("Ø", "radius") else 2.0 if (
            (sign, kind) == ("R", "diameter")) else 1.0
        return factor * self.wording.value


class StatedDimensions:
    """All dimensions of a hand-in, and its notes that state sizes."""

    def __init__(self, comparison: Comparison) -> None:
        self.comparison = comparison
        self.key = standing(comparison.shape.part)
        self._rows: dict[SizeMeasure, Floats] = {}
        mm = paper_mm(comparison)
        reach = max(comparison.within, min(REACH * mm, LEAST_REACH * part_size(
            comparison.shape.part)))
        self.outline = [piece.id for piece in comparison.shape.pieces]
        self.finder = FootFinder(self.key, self.outline, comparison.within, reach)
        unit = comparison.hand_in.unit or comparison.key.part.unit
        self.each = tuple(self._stated(each, file_wording(each.text, unit))
                          for each in comparison.hand_in.dimensions)
        texts = [(words.text, words.at) for words in comparison.hand_in.words
                 if words.kind == "text"]
        if comparison.hand_in.content is not None:
            texts += [(leader.text, leader.points[-1])
                      for leader in comparison.hand_in.content.leaders
                      if leader.text and not any(leader.text == said for said, _ in texts)]
        self.notes = tuple((note, at) for text, at in texts
                           if (note := file_wording(text, unit)) is not None)

    @cached_property
    def motions(self) -> KeyMotions:
        """How the key moves without its values: what dimensions are to hold."""
        return motions_of(self.comparison.key)

    def row(self, measure: SizeMeasure) -> Floats:
        """Return what a measure holds of the key, shape (count,), as `KeyMotions.row` says."""
        if measure not in self._rows:
            self._rows[measure] = self.motions.row(measure)
        return self._rows[measure]

    @cached_property
    def rounds(self) -> tuple[tuple[str, Arc | Circle], ...]:
        """The rounds of the outline by id, as they were to be drawn."""
        curves = ((name, self.key.curves[name]) for name in self.outline)
        return tuple((name, curve) for name, curve in curves if not isinstance(curve, Line))

    def rounds_of(self, radius: float) -> Iterator[tuple[str, Arc | Circle]]:
        """Yield the rounds of the outline that have a radius."""
        for name, curve in self.rounds:
            if abs(curve.radius - radius) <= self.comparison.within:
                yield name, curve

    @cached_property
    def factor(self) -> float:
        """What the numbers of lengths are multiplied by to be in the key's unit.

        As most of them agree with what is drawn; 1 where none does.
        """
        lengths = [(each.number, each.drawn, self.slack(each, 1.0)) for each in self.each
                   if not each.is_angle and each.number is not None and each.drawn is not None]
        best, most = 1.0, 0
        for factor in (1.0, 25.4, 1.0 / 25.4, self.comparison.pose.scale):
            hits = sum(abs(factor * number - drawn) <= factor * slack + self.comparison.within
                       for number, drawn, slack in lengths)
            if hits > most:
                best, most = factor, hits
        return best

    def slack(self, stated: StatedDimension, factor: float | None = None) -> float:
        """Return by how much a number may be off as it is rounded, in the key's unit or degrees."""
        words = stated.wording
        if words is None or words.decimals is None:
            return 0.0
        scale = 1.0 if stated.is_angle else self.factor if factor is None else factor
        return 0.5000001 * scale * 10.0 ** -words.decimals

    def says(self, stated: StatedDimension, size: float | None) -> bool:
        """Tell whether a dimension says a size, as its number is rounded."""
        value = self.value(stated)
        if value is None or size is None:
            return False
        within = self.comparison.within_angle if stated.is_angle else self.comparison.within
        return abs(value - size) <= within + self.slack(stated)

    def says_steps(self, stated: StatedDimension) -> bool:
        """Tell whether a dimension names one of equal steps and measures all: ``3x 20``."""
        value, words = self.value(stated), stated.wording
        if value is None or words is None or stated.drawn is None or words.said.total is not None:
            return False
        within = self.comparison.within_angle if stated.is_angle else self.comparison.within
        return abs(words.said.count * value - stated.drawn) <= words.said.count * (
            within + self.slack(stated))

    def is_typed_over(self, stated: StatedDimension) -> bool:
        """Tell whether a typed number is not what its dimension measures, on file or on the part.

        A drawing at half size whose numbers are the part's is no mistake of its dimensions.
        """
        file, words = stated.dimension, stated.wording
        if not file.typed or "<>" in file.typed or file.measured is None or stated.number is None:
            return False
        if self.says(stated, stated.laid):
            return False
        count = 1 if words is None else words.said.count
        within = self.comparison.within_angle if stated.is_angle else (
            self.comparison.within / self.comparison.pose.scale)
        slack = within + self.slack(stated, 1.0)
        return not any(abs(times * stated.number - file.measured) <= times * slack
                       for times in {1, count})

    def value(self, stated: StatedDimension) -> float | None:
        """Return what a dimension says, in the key's unit or degrees."""
        if stated.number is None:
            return None
        return stated.number * (1.0 if stated.is_angle else self.factor)

    def way_of(self, each: FileDimension, laid: Sequence[XY]) -> XY:
        """Return the unit direction of a length, laid on the key; (0, 0) for none."""
        if each.kind == "aligned":
            return normalized((laid[1][0] - laid[0][0], laid[1][1] - laid[0][1]))
        turn = radians(each.turn)
        (a, b), (c, d) = self.comparison.pose.matrix.tolist()
        return normalized((a * cos(turn) + b * sin(turn), c * cos(turn) + d * sin(turn)))

    # From definition points to the key.

    def _stated(self, each: FileDimension, words: FileWording | None) -> StatedDimension:
        laid = self._laid_points(each)
        measure = self._measure(each, laid)
        drawn = None if measure is None else measure(self.key)
        return StatedDimension(each, words, measure, drawn, self._laid(each, laid),
                               self.comparison.laid_point(each.text_at))

    def _laid_points(self, each: FileDimension) -> list[XY]:
        return [self.comparison.laid_point(at) for at in each.points]

    def _laid(self, each: FileDimension, laid: Sequence[XY]) -> float | None:
        """Return what the points measure, in the key's unit or degrees."""
        if each.kind in ("angular", "arc length") or len(laid) < 2:
            return each.measured if each.kind == "angular" else None
        if each.kind in ROUND:
            return dist(laid[0], laid[1])
        (x, y), (dx, dy) = self.way_of(each, laid), (
            laid[1][0] - laid[0][0], laid[1][1] - laid[0][1])
        return abs(dx * x + dy * y)

    def _measure(self, each: FileDimension, laid: Sequence[XY]) -> SizeMeasure | None:
        if len(laid) < 2 or each.kind == "arc length":
            return None
        if each.kind == "angular":
            return self._angle(each, laid)
        if each.kind in ROUND:
            return self._round(*_round_at(each, laid), 1.0 if each.kind == "radius" else 2.0)
        return self._length(each, laid[0], laid[1])

    def _round(self, center: XY, radius: float, factor: float) -> SizeMeasure | None:
        reach = self.finder.reach
        rounds = [(n, name, curve) for n, (name, curve) in enumerate(self.finder.curves)
                  if not isinstance(curve, Line)]
        found = [(off, n, name) for n, name, curve in rounds if (
            off := dist(curve.center, center) + abs(curve.radius - radius)) <= 2.0 * reach]
        if found:
            least = min(found)[0] + self.comparison.within
            return RoundSize(min((n, name) for off, n, name in found if off <= least)[1], factor)
        middle = self.finder.find(center, None)
        on = [(off, n, name) for n, name, curve in rounds
              if (off := abs(dist(curve.center, center) - radius)) <= reach]
        if middle is None or not on:
            return None
        return PitchSize(middle, Foot("center", (min(on)[2],)), factor)

    def _length(self, each: FileDimension, one: XY, other: XY) -> SizeMeasure | None:
        way = self.way_of(each, (one, other))
        feet = (self.finder.find(one, way), self.finder.find(other, way))
        if feet[0] is None or feet[1] is None or way == (0.0, 0.0):
            return None
        pair = (feet[0], feet[1])
        on_edge = [foot for foot in pair if foot.sort == "line" and foot.along != 0.5]
        like = self.finder.like_way(way, on_edge or pair)
        if like is not None and (on_edge or each.kind != "aligned"):
            return LengthBetween(pair, way, *like)
        if each.kind == "aligned" and not on_edge and min(abs(way[0]), abs(way[1])) > 1e-9:
            return LengthBetween(pair, None)
        return LengthBetween(pair, way)

    def _angle(self, each: FileDimension, laid: Sequence[XY]) -> SizeMeasure | None:
        if len(laid) == 3:
            ends = [(laid[0], laid[1]), (laid[0], laid[2])]
        elif len(laid) == 4:
            ends = [(laid[0], laid[1]), (laid[2], laid[3])]
        else:
            return None
        sides = []
        for one, other in ends:
            way = normalized((other[0] - one[0], other[1] - one[1]))
            line = self.finder.line_through(one, other)
            if way == (0.0, 0.0):
                return None
            if line is not None:
                sides.append(AngleSide(line, (), way))
                continue
            feet = [foot for at in (one, other)
                    if (foot := self.finder.find(at, None)) is not None and foot.sort != "line"]
            if len(feet) == 2:
                sides.append(AngleSide("", tuple(feet), way))
            elif min(abs(way[0]), abs(way[1])) <= 1e-6:
                sides.append(AngleSide("", (), way))
            else:
                return None
        near = each.measured if each.measured is not None else 0.0
        return AngleBetween((sides[0], sides[1]), near)

    def is_true(self, stated: StatedDimension) -> bool:
        """Tell whether its points lie on what the hand-in itself has drawn, or where it points."""
        curves = [each.curve for each in (*self.comparison.outline, *self.comparison.center_lines)]
        laid = self._laid_points(stated.dimension)
        if stated.is_round and len(laid) > 1:
            center, radius = _round_at(stated.dimension, laid)
            return any(not isinstance(c, Line) and dist(c.center, center) <= self.comparison.within
                       and abs(c.radius - radius) <= self.comparison.within for c in curves)
        return all(any(self._touches(curve, at) for curve in curves) for at in laid)

    def _touches(self, curve: Curve, at: XY) -> bool:
        within = self.comparison.within
        if isinstance(curve, Line):
            return distance(curve, at, bounded=False) <= within
        return dist(curve.center, at) <= within or distance(curve, at) <= within


def _round_at(each: FileDimension, laid: Sequence[XY]) -> tuple[XY, float]:
    """Return center and radius of what a radius or a diameter is put to."""
    (ax, ay), (bx, by) = laid[:2]
    center = (ax, ay) if each.kind == "radius" else (0.5 * (ax + bx), 0.5 * (ay + by))
    return center, dist(center, (bx, by))


def stated_dimensions(comparison: Comparison) -> StatedDimensions | None:
    """Return what the dimensions of a hand-in state; None where it has none."""
    return comparison.stated if comparison.hand_in.dimensions else None
