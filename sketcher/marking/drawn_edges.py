"""Each feature of the key as a hand-in has it: what lies on its carrier, where it ends there."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import dist, pi

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import midpoint, travelled_as, turn
from sketcher.interrupt import check
from sketcher.marking.assignment import Matching
from sketcher.marking.carrier_spans import (
    CarrierSpan,
    leaves,
    openings,
    place,
    shared,
    span,
    twice,
    united,
)
from sketcher.marking.outline_features import Feature
from sketcher.marking.slip import Slip

FAR = 0.12
"""Share of the size from which a line off its place is another line, unless it still meets what
it should meet (by trial on the demo parts, edges moved by up to a tenth of the size; no source)."""
TILTED = pi / 6.0
"""Radians: the same for a line that is turned by more (by trial, no source)."""
MOST_OF = 0.5
"""Share of a feature that must be covered for it to be there at all."""
BESIDE = 20.0
"""A second line or round within so many tolerances of a first is meant to be that one."""

FEWEST_TWICE, MOST_TWICE = 4, 0.8
"""An outline of which so many edges, and such a share, are doubled was drawn twice as a whole."""


@dataclass(frozen=True, slots=True)
class Opening:
    """Where an outline is open.

    Parameters
    ----------
    at : (x, y)
    size : float
        Distance of the two ends.
    ends : (XY, XY)
    curves : tuple of int
        Curves of the hand-in that end there.
    keys : tuple of int
        Features of the key that it lies in or between.
    """

    at: XY
    size: float
    ends: tuple[XY, XY]
    curves: tuple[int, ...]
    keys: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class DrawnEdge:
    """A feature of the key as it was drawn.

    Parameters
    ----------
    key : int
    hand : tuple of int
        Features of the hand-in that draw it; the first was paired with it.
    curve : Curve
        Whose carrier it has: the key's own where it lies there.
    off : float
        How far it leaves the key's carrier; 0 where that is within tolerance.
    ends : pair of (x, y) or None
        Where it ends, at the start and the end of the key's feature; None where it goes on into
        another feature or goes round.
    numbers : pair of int
        The curves that end there; -1 where none does.
    """

    key: int
    hand: tuple[int, ...]
    curve: Curve
    off: float
    ends: tuple[XY | None, XY | None]
    numbers: tuple[int, int] = (-1, -1)


class DrawnEdges:
    """The features of the key that a hand-in has, and what it has besides.

    Parameters
    ----------
    key, hand : sequence of Feature
        What was to be drawn, and what was drawn, in one place.
    outline : sequence of Curve
        What `hand` numbers.
    matching : Matching
    joined : iterable of (int, int)
        Features of the key that meet.
    size, within : float
        Of the key; the tolerance.

    Attributes
    ----------
    found : dict of int to DrawnEdge
        By number in the key.
    missing : list of int
    extra : set of int
        Features of the hand-in that draw nothing of the key.
    openings : list of Opening
        Within a feature.
    slips : list of Slip
        What is drawn twice, left beneath an edge, or through where two edges should end.
    """

    def __init__(
        self, key: Sequence[Feature], hand: Sequence[Feature], outline: Sequence[Curve],
        matching: Matching, joined: Iterable[tuple[int, int]], size: float, within: float,
    ) -> None:
        self.key, self.hand, self.outline = key, hand, outline
        self.size, self.within = size, within
        self.found: dict[int, DrawnEdge] = {}
        self.openings: list[Opening] = []
        self.slips: list[Slip] = []
        self.extra = set(range(len(hand)))
        self._drawing: dict[int, list[int]] = {}
        self._off: dict[int, float] = {}
        self._beside_of: dict[int, set[int]] = {i: set() for i in range(len(key))}
        for a, b in joined:
            self._beside_of[a].add(b)
            self._beside_of[b].add(a)
        self._pair(matching)
        self._take_parts()
        self.missing = [i for i in range(len(key)) if i not in self._drawing]
        through = self._through()
        for i in sorted(self._drawing):
            check()
            self._measure(i, through)
        self._beside()
        self.slips = self._as_a_whole()

    # Which feature draws which.

    def _pair(self, matching: Matching) -> None:
        paired = dict(matching.pairs)
        off = {i: gap for (i, _), gap in zip(matching.pairs, matching.off, strict=True)
               if gap > self.within}
        lost = {i for i, gap in off.items() if not self._one(i, paired, gap, off)}
        while True:  # what hangs together with nothing that is there is not there either
            alone = {i for i in off.keys() - lost if self._beside_of[i] and all(
                k not in paired or k in lost for k in self._beside_of[i])}
            if not alone:
                break
            lost |= alone
        for i, j in matching.pairs:
            if i not in lost:
                self._drawing[i] = [j]
                self._off[i] = off.get(i, 0.0)
                self.extra.discard(j)

    def _one(self, i: int, paired: Mapping[int, int], gap: float, off: Mapping[int, float]) -> bool:
        """Whether a feature off its place may still be the one that it was paired with."""
        mine, theirs = self.key[i].curve, self.hand[paired[i]].curve
        if any(k not in off and self._lies_beside(self.key[k].curve, theirs) for k in paired):
            return False
        if isinstance(mine, Line) and isinstance(theirs, Line):
            tilt = abs(turn(mine.direction, theirs.direction))
            near = gap <= FAR * self.size and min(tilt, pi - tilt) <= TILTED
            return near or self._meets(i, paired)
        if isinstance(mine, Circle) != isinstance(theirs, Circle):
            return False
        return isinstance(mine, Circle) or gap <= FAR * self.size or self._meets(i, paired)

    def _meets(self, i: int, paired: Mapping[int, int]) -> bool:
        """Whether both ends of a feature meet those that it should meet, as they were drawn."""
        curve = self.hand[paired[i]].curve
        others = [self.hand[paired[k]].curve for k in self._beside_of[i] if k in paired]
        ends = [end for c in others if not isinstance(c, Circle) for end in (c.start, c.end)]
        return not isinstance(curve, Circle) and all(
            any(dist(at, end) <= self.within for end in ends) for at in (curve.start, curve.end))

    def _lies_beside(self, base: Curve, curve: Curve) -> bool:
        """Whether a curve repeats most of itself on another."""
        return leaves(base, curve) <= BESIDE * self.within and shared(
            span(base, base), span(base, curve)) >= MOST_OF * curve.length

    def _take_parts(self) -> None:
        """Give features of the hand-in that lie on one of the key, within its extent, to that."""
        for j in sorted(self.extra, key=lambda j: -self.hand[j].curve.length):
            best = max(((self._cover(i, j), i) for i in range(len(self.key))
                        if not self._off.get(i)), default=(0.0, -1))
            if best[0] <= self.within:
                continue
            i = best[1]
            if i in self._drawing:
                self._drawing[i].append(j)
            elif best[0] >= MOST_OF * self.key[i].curve.length:
                self._drawing[i], self._off[i] = [j], 0.0
            else:
                continue
            self.extra.discard(j)
        for i in range(len(self.key)):
            if i not in self._drawing:
                whole = [j for j in range(len(self.hand)) if j not in self.extra and
                         self._cover(i, j) >= MOST_OF * self.key[i].curve.length]
                if whole:
                    self._drawing[i], self._off[i] = whole[:1], 0.0

    def _cover(self, i: int, j: int) -> float:
        """How much of a feature of the key one of the hand-in covers."""
        base, curve = self.key[i].curve, self.hand[j].curve
        if leaves(base, curve) > self.within:
            return 0.0
        return shared(CarrierSpan(0.0, base.length), span(base, curve))

    def _through(self) -> set[tuple[int, int]]:
        """Return the ends at which one feature runs on through two of the key; tell of it once."""
        users: dict[int, list[int]] = defaultdict(list)
        for i, hand in self._drawing.items():
            for j in hand:
                users[j].append(i)
        found: set[tuple[int, int]] = set()
        for j, keys in users.items():
            base = self.hand[j].curve
            ordered = sorted(keys, key=lambda i: span(base, self.key[i].curve))
            for a, b in pairwise(ordered):
                one, other = (span(base, self.key[i].curve) for i in (a, b))
                at = place(base, 0.5 * (one.high + other.low))
                self.slips.append(Slip("overrun", at, (a, b), (j,), (), other.low - one.high,
                                       word="through"))
                for i, position in ((a, one.high), (b, other.low)):
                    curve = self.key[i].curve
                    assert not isinstance(curve, Circle)
                    end = place(base, position)
                    found.add((i, int(dist(end, curve.end) < dist(end, curve.start))))
        return found

    # How each is drawn.

    def _measure(self, i: int, through: set[tuple[int, int]]) -> None:
        hand, off = tuple(self._drawing[i]), self._off[i]
        if off:
            base = self._along(i, hand[0])
        else:
            base = self.key[i].curve
        numbers = [n for j in hand for n in self.hand[j].sources]
        if self._other_way(i, hand):
            self.slips.append(Slip("wrong-branch", place(base, -0.5 * base.length), (i,), hand,
                                   word="round"))
            self.found[i] = DrawnEdge(i, hand, base, off, (None, None))
            return
        spans = {n: span(base, self.outline[n]) for n in numbers}
        shared_out = any(end for end in through if end[0] == i)
        round_ = 2.0 * pi * base.radius if isinstance(base, Circle) else 0.0
        double = twice(list(spans.values()), self.within, round_)
        if double:
            self._told_twice(i, base, spans, double, shared_out)
        for gap in openings(list(spans.values()), self.within, round_):
            ends = (place(base, gap.low), place(base, gap.high))
            at = tuple(n for n in spans if abs(spans[n].high - gap.low) <= self.within
                       or abs(spans[n].low - gap.high) <= self.within
                       or (round_ and abs(spans[n].low + round_ - gap.high) <= self.within))
            self.openings.append(Opening(place(base, 0.5 * (gap.low + gap.high)), gap.length, ends,
                                         at, (i,)))
        self.found[i] = self._ended(i, base, off, hand, spans, through)

    def _other_way(self, i: int, hand: tuple[int, ...]) -> bool:
        """Whether an arc has its ends and circle, and goes the other way round."""
        mine, theirs = self.key[i].curve, self.hand[hand[0]].curve
        if self._off[i] or not isinstance(mine, Arc) or not isinstance(theirs, Arc):
            return False
        return dist(mine.start, theirs.end) <= self.within and dist(
            mine.end, theirs.start) <= self.within

    def _along(self, i: int, j: int) -> Curve:
        """Return a feature of the hand-in in the direction of the key's."""
        mine, theirs = self.key[i].curve, self.hand[j].curve
        if isinstance(mine, Line) and isinstance(theirs, Line):
            return travelled_as(theirs, mine)
        return theirs

    def _told_twice(
        self, i: int, base: Curve, spans: dict[int, CarrierSpan], double: Sequence[CarrierSpan],
        through: bool,
    ) -> None:
        """Tell of curves that lie on each other: a construction line beneath an edge, or twice."""
        slack, length = self.within, base.length
        beyond = [] if through or isinstance(base, Circle) else [
            n for n, s in spans.items() if s.low < -slack or s.high > length + slack]
        rest = united([s for n, s in spans.items() if n not in beyond], slack)
        if beyond and len(rest) == 1 and rest[0].low <= slack and rest[0].high >= length - slack:
            low = min(spans[n].low for n in beyond)
            high = max(spans[n].high for n in beyond)
            at = place(base, low if -low > high - length else high)
            if isinstance(base, Arc) and any(
                    isinstance(self.outline[n], Circle) for n in beyond):
                at = place(base, 0.5 * length + pi * base.radius)
            self.slips.append(Slip("construction-left", at, (i,), (), tuple(beyond),
                                   word="beneath"))
            for n in beyond:
                del spans[n]
            double = twice(list(spans.values()), slack)
            if not double:
                return
        at = place(base, 0.5 * (double[0].low + double[0].high))
        over = tuple(n for n, s in spans.items() if any(shared(s, d) > slack for d in double))
        self.slips.append(Slip("doubled", at, (i,), (), over, sum(d.length for d in double)))

    def _ended(
        self, i: int, base: Curve, off: float, hand: tuple[int, ...], spans: dict[int, CarrierSpan],
        through: set[tuple[int, int]],
    ) -> DrawnEdge:
        if isinstance(base, Circle):
            return DrawnEdge(i, hand, base, off, (None, None))
        low = min(spans, key=lambda n: spans[n].low)
        high = max(spans, key=lambda n: spans[n].high)
        if isinstance(base, Arc) and (
                spans[high].high - spans[low].low >= 2.0 * pi * base.radius - self.within):
            rest = 2.0 * pi * base.radius - base.length
            self.slips.append(Slip("overrun", place(base, base.length + 0.5 * rest), (i,), hand, (),
                                   rest, word="round"))
            return DrawnEdge(i, hand, base, off, (None, None))
        ends: list[XY | None] = []
        for end, n, position in ((0, low, spans[low].low), (1, high, spans[high].high)):
            curve, at = self.outline[n], place(base, position)
            assert not isinstance(curve, Circle)
            ends.append(None if (i, end) in through else min(
                (curve.start, curve.end), key=lambda p, at=at: dist(p, at)))  # type: ignore[misc]
        return DrawnEdge(i, hand, base, off, (ends[0], ends[1]), (low, high))

    def _as_a_whole(self) -> list[Slip]:
        """Return the slips of single edges; an outline that is drawn twice is told once."""
        doubled = [each for each in self.slips if each.rule == "doubled"]
        if len(doubled) < max(FEWEST_TWICE, MOST_TWICE * len(self.found)):
            return self.slips
        rest = [each for each in self.slips if each.rule != "doubled"]
        first = min(doubled, key=lambda each: each.at)
        return [*rest, Slip(
            "doubled", first.at, first.keys, tuple(j for each in doubled for j in each.hand),
            tuple(n for each in doubled for n in each.curves),
            sum(each.amount for each in doubled), word="all", count=len(doubled))]

    def _beside(self) -> None:
        """Tell of what was drawn a second time beside itself."""
        for j in sorted(self.extra):
            curve = self.hand[j].curve
            for edge in self.found.values():
                if self._lies_beside(edge.curve, curve):
                    self.slips.append(Slip("doubled", midpoint(curve), (edge.key,), (j,), (),
                                           curve.length, word="beside"))
                    self.extra.discard(j)
                    break
