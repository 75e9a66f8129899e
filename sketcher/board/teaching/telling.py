"""The tellings of a construction: its steps, or its hand moves, as beats with their sentences."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import singledispatchmethod
from itertools import pairwise
from math import atan2, radians, tau

from sketcher.board.teaching.beats import (
    TAKING,
    Beat,
    Weight,
    line_seconds,
    ran_out,
    round_seconds,
    seconds_for,
    swing,
)
from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.lesson.order_step import OrderStep
from sketcher.lesson.strokes import (
    Angled,
    Crossed,
    GivenLine,
    GivenPoint,
    GoneOver,
    Move,
    Named,
    Ruled,
    Stroke,
    Swung,
)
from sketcher.part.part_size import part_size
from sketcher.part.value import Part
from sketcher.part.whole import Piece, half, whole

BEYOND = 0.06
"""Share of the part's size by which a line is drawn on whose ends are not known yet."""
PER_SECOND = 3.5
"""Words read in a second: 210 a minute (common practice, no source)."""
REST = 0.6
"""Seconds after a sentence in which nothing moves, at least."""
AT_ONCE = 30
"""Images that grow at once; what is more follows after them."""
WORD = re.compile(r"[A-Za-z0-9_]+(?:#\d+)?'*")
"""Whatever may be the name of a thing, of a helper or of an image."""


@dataclass(frozen=True, slots=True)
class Passage:
    """What is drawn under one sentence.

    Parameters
    ----------
    step : int
        Index of the step.
    move, moves : int
        Which hand move of how many, from 1; 0 where the step is told as a whole.
    text : str
    names : tuple of str
        What the sentence speaks of, of all that is drawn by its end.
    first, last : int
        Its beats: from `first` up to, not with, `last`.
    """

    step: int
    move: int
    moves: int
    text: str
    names: tuple[str, ...]
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Told:
    """A whole telling.

    Parameters
    ----------
    beats : tuple of Beat
    passages : tuple of Passage
        In order; together they have every beat.
    revived : tuple of tuple of int
        For each step which helpers of earlier steps it uses, as indices of beats.
    """

    beats: tuple[Beat, ...]
    passages: tuple[Passage, ...]
    revived: tuple[tuple[int, ...], ...]


def told(part: Part, steps: Sequence[OrderStep], by_hand: bool) -> Told:
    """Return the telling of a construction.

    Parameters
    ----------
    part : Part
        Solved; what the steps construct.
    steps : sequence of OrderStep
    by_hand : bool
        Every move, with compass and straightedge; else the steps alone.
    """
    teller = _Teller(part, steps)
    for number, step in enumerate(steps):
        teller.tell(number, step, by_hand)
    return Told(tuple(teller.beats), tuple(teller.passages), teller.revived())


class _Teller:
    """Goes through the steps and knows what is drawn by then."""

    def __init__(self, part: Part, steps: Sequence[OrderStep]) -> None:
        self.part = part
        self.size = part_size(part)
        self.half = half(part)
        self.images = {piece.id: piece for piece in whole(part) if not piece.drawn}
        self.beats: list[Beat] = []
        self.passages: list[Passage] = []
        self.steps = steps
        self._step = 0
        self._ran = {stroke.name: Line(*stroke.ends) for step in steps for move in step.moves
                     for stroke in move.strokes if isinstance(stroke, Ruled | Angled | GivenLine)}
        self._last = {name: number for number, step in enumerate(steps) for name in step.curves}
        self._places: dict[str, XY] = {}
        self._exact: set[str] = set()
        self._known: dict[str, int] = {}

    # Steps.

    def tell(self, number: int, step: OrderStep, by_hand: bool) -> None:
        """Tell one step."""
        self._step = number
        if by_hand and step.moves:
            for place, move in enumerate(step.moves, 1):
                first = len(self.beats)
                self._strokes(move)
                if place == len(step.moves):
                    self._places.update((name, self.part.points[name]) for name in step.points)
                    self._curves(step, by_hand=True)
                self._say(move.text, first, place, len(step.moves))
            return
        first = len(self.beats)
        for name in step.points:
            if name in self.part.points:
                self._draw(Beat(number, name, at=self.part.points[name]))
        self._curves(step, by_hand=False)
        self._in_order_of(step, first)
        self._say(whole_sentence(step), first)

    def _in_order_of(self, step: OrderStep, first: int) -> None:
        """Draw the things of a step in the order in which the hand comes to them."""
        order = {stroke.name: place for place, stroke in enumerate(
            stroke for move in step.moves for stroke in move.strokes)}
        fresh = sorted(self.beats[first:], key=lambda beat: order.get(beat.name, len(order)))
        self.beats[first:] = fresh
        self._known.update((beat.name, first + place) for place, beat in enumerate(fresh))

    def _say(self, text: str, first: int, move: int = 0, moves: int = 0) -> None:
        """Close a passage; it lasts until its sentence is read."""
        drawn = sum(beat.lasts for beat in self.beats[first:])
        if len(self.beats) == first:  # nothing to be seen: the sentence has its time all the same
            self.beats.append(Beat(self._step, "", lasts=0.0))
        rest = max(REST, len(text.split()) / PER_SECOND - drawn)
        self.beats.append(Beat(self._step, "", lasts=rest))
        names = tuple(n for n in dict.fromkeys(WORD.findall(text)) if n in self._known)
        self.passages.append(
            Passage(self._step, move, moves, text, names, first, len(self.beats)))

    def _draw(self, beat: Beat) -> None:
        self._known[beat.name] = len(self.beats)
        if beat.at is not None:
            self._places[beat.name] = beat.at
        self.beats.append(beat)

    # Curves of the part.

    def _curves(self, step: OrderStep, by_hand: bool) -> None:
        """Draw the curves of a step as far as their ends are known by now."""
        for name in step.curves:
            if name not in self.half:
                continue
            curve, exact = self._as_far_as_known(name)
            last = exact and self._last[name] == self._step
            weight = self._weight(self.part.curves[name].role, last)
            if by_hand and name in self._known and weight != "full":
                continue  # its stroke is there
            if name in self._exact and self._weight_of(name) == weight:
                continue
            if exact:
                self._exact.add(name)
            self._draw(self._whole(name, curve, weight))
        self._images([piece for name in step.curves if (piece := self.images.get(name))])

    def _whole(self, name: str, curve: Curve, weight: Weight) -> Beat:
        return Beat(self._step, name, (curve,), weight=weight, lasts=seconds_for(curve, self.size),
                    tool="straightedge" if isinstance(curve, Line) else "compass")

    def _as_far_as_known(self, name: str) -> tuple[Curve, bool]:
        """Return a curve as it can be drawn by now, and whether that is all of it and no more."""
        curve = self.half[name]
        if isinstance(curve, Circle) or all(
                end in self._places for end in self.part.curves[name].points):
            return curve, True
        if isinstance(curve, Line):
            return self._ran.get(name) or ran_out(curve, BEYOND * self.size), False
        return Circle(curve.center, curve.radius), False

    def _weight(self, role: str, last: bool) -> Weight:
        """Return how a curve of a role is drawn: the outline heavily when it is gone over."""
        if role == "axis":
            return "axis"
        return "full" if role == "outline" and last else "thin"

    def _weight_of(self, name: str) -> Weight:
        return self.beats[self._known[name]].weight

    def _images(self, pieces: Sequence[Piece]) -> None:
        """Draw what a reflection or a pattern makes, many at once."""
        fresh = [piece for piece in pieces if piece.id not in self._exact]
        for begin in range(0, len(fresh), AT_ONCE):
            some = fresh[begin:begin + AT_ONCE]
            self._exact.update(piece.id for piece in some)
            self._draw(Beat(self._step, some[0].id, tuple(piece.curve for piece in some),
                            at_once=True, weight=self._weight(some[0].role, True), lasts=1.0))

    # Strokes of the hand.

    def _strokes(self, move: Move) -> None:
        for stroke in move.strokes:
            self._draw(self._beat(stroke))

    @singledispatchmethod
    def _beat(self, stroke: Stroke) -> Beat:
        """Return what is seen of a stroke."""
        raise TypeError(stroke)

    @_beat.register
    def _(self, stroke: GivenPoint) -> Beat:
        return Beat(self._step, stroke.name, at=stroke.at, weight=self._stroke_weight(stroke.name))

    @_beat.register
    def _(self, stroke: Crossed) -> Beat:
        return Beat(self._step, stroke.name, at=stroke.at, uses=stroke.of,
                    weight=self._stroke_weight(stroke.name))

    @_beat.register
    def _(self, stroke: Named) -> Beat:
        return Beat(self._step, stroke.name, at=self._places[stroke.of], uses=(stroke.of,),
                    weight=self._stroke_weight(stroke.name))

    @_beat.register
    def _(self, stroke: GivenLine) -> Beat:
        return self._ruled(stroke, (stroke.through,))

    @_beat.register
    def _(self, stroke: Ruled) -> Beat:
        return self._ruled(stroke, stroke.through)

    @_beat.register
    def _(self, stroke: Angled) -> Beat:
        beat = self._ruled(stroke, (stroke.at, stroke.base))
        (x0, y0), (x1, y1) = stroke.ends
        base = atan2(y1 - y0, x1 - x0) - radians(stroke.degrees)
        return replace(beat, tool="protractor", note=stroke.text, foot=self._places[stroke.at],
                       base=base % tau, degrees=stroke.degrees, lasts=beat.lasts + TAKING)

    @_beat.register
    def _(self, stroke: Swung) -> Beat:
        opening, spans = stroke.opening, stroke.spans or ((0.0, tau),)
        curves = tuple(swing(stroke.at, opening.amount, *span) for span in spans)
        taken = None
        if opening.span is not None:
            one, other = opening.span
            taken = (self._places[one], self._places[other])
        lasts = round_seconds(sum(abs(turn) for _, turn in spans))
        weight = self._stroke_weight(stroke.name)
        if isinstance(self.half.get(stroke.name), Circle) and not stroke.spans:
            self._exact.add(stroke.name)  # nobody draws a hole twice
            weight = self._weight(self.part.curves[stroke.name].role,
                                  self._last.get(stroke.name) == self._step)
        return Beat(self._step, stroke.name, curves, tool="compass", note=opening.text,
                    uses=(stroke.center, *(opening.span or ())), taken=taken,
                    weight=weight,
                    lasts=lasts + (TAKING if taken is not None else 0.0))

    @_beat.register
    def _(self, stroke: GoneOver) -> Beat:
        image = self.images.get(stroke.name)
        curve = self.half.get(stroke.name) or (image.curve if image is not None else None)
        self._exact.add(stroke.name)
        if curve is not None:
            return replace(self._whole(stroke.name, curve, "full"), uses=(stroke.on,))
        runs = tuple(Line(a, b) for a, b in pairwise(stroke.shape))
        return Beat(self._step, stroke.name, runs, tool="pencil", weight="full", uses=(stroke.on,),
                    lasts=line_seconds(sum(run.length for run in runs), self.size))

    def _ruled(self, stroke: GivenLine | Ruled | Angled, uses: tuple[str, ...]) -> Beat:
        line = Line(*stroke.ends)
        return Beat(self._step, stroke.name, (line,), tool="straightedge", uses=uses,
                    weight=self._stroke_weight(stroke.name),
                    lasts=line_seconds(line.length, self.size))

    def _stroke_weight(self, name: str) -> Weight:
        """Return how what the hand draws is drawn: what begins with a digit only helps."""
        if name[0].isdigit():
            return "helper"
        curve = self.part.curves.get(name)
        return "axis" if curve is not None and curve.role == "axis" else "thin"

    # What is used again.

    def revived(self) -> tuple[tuple[int, ...], ...]:
        """Return for each step the beats of helpers from earlier steps that it uses."""
        made: dict[str, int] = {}
        used: list[set[int]] = [set() for _ in self.steps]
        for index, beat in enumerate(self.beats):
            for name in beat.uses:
                at = made.get(name)
                if at is not None and self.beats[at].step < beat.step:
                    used[beat.step].add(at)
            if beat.weight == "helper" and beat.name:
                made[beat.name] = index
        return tuple(tuple(sorted(indices)) for indices in used)


def whole_sentence(step: OrderStep) -> str:
    """Return what a step says, its parts lettered behind it."""
    return " ".join((step.text, *(
        f"({chr(ord('a') + place)}) {part}" for place, part in enumerate(step.substeps))))
