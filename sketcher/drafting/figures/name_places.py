"""Where the names of a figure stand: clear of lines and of one another, with leaders where needed.

A name with its numbers is one box of lettering; what it costs on lines and beside others is judged
as for dimensions (`layout.ink`). Hard names go first, then each has another look at what is free.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import cos, hypot, pi, sin

import numpy as np

from sketcher.drafting.layout.ink import (
    HARD,
    LEADER,
    PLUS,
    Array,
    Batch,
    Ink,
    Ints,
    Standing,
    pieces_of,
)
from sketcher.drafting.layout.paper_ground import cut_off
from sketcher.drafting.lettering import descent, text_width
from sketcher.drafting.primitives import Item, Stroke, Text, arrowhead, line
from sketcher.geometry.bounds import Box, bounds
from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.geometry.evaluate import point_at, tangent_at

ARROW = 2.0
"""mm, length of the arrowhead on a curve: it tells a leader from a line of the part."""
CLEAR = 0.5
"""mm between a name and its leader."""
GAP = 0.8
"""mm between ring and name, and between two rings (common practice, no source)."""
DOT = 0.7
"""mm, radius of a dot."""
TURNS = tuple(0.125 * pi * k for k in (2, 6, 14, 10, 1, 3, 5, 7, 15, 13, 9, 11, 0, 8, 4, 12))
"""Directions from a point, upwards to the right first."""
BESIDE = (1.3, 2.0)
"""mm from a point or a curve to a name without a leader."""
AWAY = (4.0, 6.0, 8.5, 11.5, 15.0, 19.0, 24.0, 30.0, 37.0)
"""The same with a leader."""
SHARES = (0.5, 0.38, 0.62, 0.26, 0.74, 0.15, 0.85, 0.07, 0.93)
"""Where along a curve its name may stand."""
LEADERED, PER_MM, PER_TURN = 4.0, 0.15, 0.03
"""What a leader costs, each mm of it, and each direction after the first: by trial on the demo
parts. A leader over one line costs as much as half a leader."""
TAKEN_FOR = 60.0
"""What it costs that a name without a leader is nearer to another point or curve."""
CLEARLY = 0.8
"""mm by which its own has to be nearer."""
TIP = 32
"""How many places are looked at together: those about one or two tips lie near each other."""
NEAR = 5.0
"""mm: what is further from a name is not looked at."""
OFF = 1e6
"""What it costs to stand out of the figure's place: more than to stand on any number of lines."""
ROUNDS = 2
"""How often every name looks again for a better place."""


@dataclass(frozen=True)
class NameBox:
    """A name as it is lettered, with its size.

    Parameters
    ----------
    text : str
    numbers : tuple of str
    height : float
        Of the lettering in mm.
    bold : bool
    """

    text: str
    numbers: tuple[str, ...]
    height: float
    bold: bool = False

    @cached_property
    def ring(self) -> float:
        """Radius of the rings in mm."""
        widest = max((text_width(number, self.height) for number in self.numbers), default=0.0)
        return hypot(0.5 * widest, 0.5 * self.height) + 0.15 * self.height

    @property
    def rings(self) -> float:
        """Width of the rings with the gaps behind them."""
        return len(self.numbers) * (2.0 * self.ring + GAP) - (0.0 if self.text else
                                                             GAP * bool(self.numbers))

    @cached_property
    def half(self) -> tuple[float, float]:
        """Half width and half height."""
        wide = Text(self.text, (0.0, 0.0), self.height, "", bold=self.bold).width
        tall = 0.5 * self.height + 0.2 * descent(self.height)
        return (0.5 * (self.rings + wide), max(tall, self.ring if self.numbers else 0.0))

    def items(self, middle: XY, source: str) -> list[Item]:
        """Return the ink around a middle."""
        (x, y), (wide, _), low = middle, self.half, 0.5 * self.height
        at = x - wide
        found: list[Item] = []
        for number in self.numbers:
            center = (at + self.ring, y)
            found += [Stroke(Circle(center, self.ring), "dimension", source),
                      Text(number, (center[0], y - low), self.height, source, "center")]
            at += 2.0 * self.ring + GAP
        if self.text:
            found.append(Text(self.text, (at, y - low), self.height, source, bold=self.bold))
        return found

    def reached(self, middles: Array, tips: Array) -> Array:
        """Return where leaders from tips (n, 2) end at the name about middles (n, 2)."""
        (wide, tall), ring = self.half, self.ring
        ends = []
        if self.numbers:
            center = middles - np.array((wide - ring, 0.0))
            way = tips - center
            far = np.maximum(np.hypot(*way.T), 1e-9)[:, None]
            ends.append(center + ring * way / far)
        else:
            ends.append(middles - np.array((wide + CLEAR, 0.0)))
            across = np.where(tips[:, 1] > middles[:, 1], tall + CLEAR, -tall - CLEAR)
            over = np.abs(tips[:, 0] - middles[:, 0]) < wide
            ends.append(np.where(over[:, None], np.stack((tips[:, 0], middles[:, 1] + across), 1),
                                 np.inf))
        if self.text:
            ends.append(middles + np.array((wide + CLEAR, 0.0)))
        every = np.stack(ends)
        nearest = np.hypot(*np.moveaxis(every - tips, -1, 0)).argmin(axis=0)
        return np.asarray(every[nearest, np.arange(len(tips))])


@dataclass(frozen=True, slots=True)
class WantedName:
    """A name that is to be placed, in mm on paper.

    Parameters
    ----------
    label : NameBox
    source : str
    at : XY or None
        The point that it names.
    curves : tuple of Curve
        What it names where that is no point.
    owner : int
        Number of its curve among those of the figure, -1 for a point.
    """

    label: NameBox
    source: str
    at: XY | None = None
    curves: tuple[Curve, ...] = ()
    owner: int = -1


@dataclass(frozen=True, slots=True)
class PlacedName:
    """Where a name stands, and the tip of its leader."""

    wanted: WantedName
    middle: XY
    tip: XY | None
    cost: float

    def items(self) -> list[Item]:
        """Return the ink."""
        found = self.wanted.label.items(self.middle, self.wanted.source)
        if self.tip is not None:
            label, source = self.wanted.label, self.wanted.source
            x, y = label.reached(np.array([self.middle]), np.array([self.tip]))[0].tolist()
            found.append(line(self.tip, (x, y), "leader", source))
            if self.wanted.at is None:
                way = (self.tip[0] - x, self.tip[1] - y)
                found.append(arrowhead(self.tip, way, source, ARROW, ARROW / 3.0))
        return found


@dataclass
class NameGround:
    """What is there before the names.

    Parameters
    ----------
    lines : sequence of (Curve, int, int)
        Each with its kind of ink and the number of its owner.
    dots : sequence of XY
    within : Box
        Where names may stand.
    """

    lines: Sequence[tuple[Curve, int, int]]
    dots: Sequence[XY]
    within: Box

    @cached_property
    def pieces(self) -> tuple[Array, Ints]:
        """Straight pieces of all lines, and whose they are."""
        return pieces_of((seen_as(curve), owner) for curve, _, owner in self.lines)

    @cached_property
    def ink(self) -> Ink:
        """Lines and dots, owned by nobody."""
        pieces, kinds = pieces_of((seen_as(curve), kind) for curve, kind, _ in self.lines)
        circles = np.array([(*dot, DOT) for dot in self.dots], float).reshape(-1, 3)
        return Ink(pieces, kinds, np.zeros(len(pieces), np.intp), np.zeros((0, 6)),
                   np.zeros(0, np.intp), circles, np.full(len(circles), PLUS, np.intp), 1)

    def costs(self, batch: Batch) -> Array:
        """Return what each place costs here."""
        out = cut_off(batch.boxes, self.within)
        return np.asarray(self.ink.costs(batch)[:, 0] + np.where(out > 0.0, OFF + out, 0.0))

    def away(self, middles: Array, half: tuple[float, float]) -> tuple[Array, Array]:
        """Return how far boxes are from each line and from each dot, by owner and by number."""
        pieces, owners = self.pieces
        count = int(owners.max()) + 1 if len(owners) else 0
        low, high = middles.min(axis=0) - half - NEAR, middles.max(axis=0) + half + NEAR
        near = ((np.minimum(pieces[:, :2], pieces[:, 2:]) < high).all(axis=1)
                & (np.maximum(pieces[:, :2], pieces[:, 2:]) > low).all(axis=1))
        pieces, owners = pieces[near], owners[near]
        found = np.full((len(middles), count), np.inf)
        for owner in np.unique(owners):
            mine = pieces[owners == owner]
            if len(mine):
                found[:, owner] = _from_boxes(middles, half, mine).min(axis=1)
        dots = np.array(self.dots, float).reshape(-1, 2)
        gap = np.abs(middles[:, None] - dots[None]) - half
        return found, np.hypot(*np.moveaxis(np.maximum(gap, 0.0), -1, 0))


def seen_as(curve: Curve) -> Curve:
    """Return a curve, or the line across it where it is no larger than a dot."""
    x0, y0, x1, y1 = bounds(curve)
    return curve if max(x1 - x0, y1 - y0) > 2.0 * DOT else Line((x0, y0), (x1, y1))


def _from_boxes(middles: Array, half: tuple[float, float], pieces: Array) -> Array:
    """Return about how far level boxes are from straight pieces: by five places on each piece."""
    shares = np.linspace(0.0, 1.0, 5)[:, None]
    spots = (pieces[:, None, :2] + shares * (pieces[:, None, 2:] - pieces[:, None, :2]))
    gap = np.abs(middles[:, None] - spots.reshape(1, -1, 2)) - half
    return np.asarray(np.hypot(*np.moveaxis(np.maximum(gap, 0.0), -1, 0)))


@dataclass(frozen=True)
class _NameSpots:
    """The places that one name may take: middles, tips of leaders (nan without), own costs."""

    wanted: WantedName
    middles: Array
    tips: Array
    own: Array

    @cached_property
    def batch(self) -> Batch:
        """The places as ink."""
        half = self.wanted.label.half
        boxes = np.empty((len(self.middles), 6))
        boxes[:, :2], boxes[:, 2:] = self.middles, (1.0, 0.0, *half)
        led = np.flatnonzero(~np.isnan(self.tips[:, 0]))
        tips = self.tips[led]
        rows = np.concatenate((tips, self.wanted.label.reached(self.middles[led], tips)), axis=1)
        return Batch(rows, np.full(len(led), LEADER), led, boxes)


def _spots(wanted: WantedName) -> _NameSpots:
    half = wanted.label.half
    edge = DOT + 0.3 if wanted.at is not None else 0.0
    rows: list[tuple[float, ...]] = []
    for tip, turns in _tips(wanted):
        for rank, turn in enumerate(turns):
            c, s = cos(turn), sin(turn)
            to = (half[0] * max(-1.0, min(1.0, 1.4 * c)), half[1] * max(-1.0, min(1.0, 1.4 * s)))
            for away in (*BESIDE, *AWAY):
                led = away in AWAY
                x, y = tip[0] + away * c + to[0], tip[1] + away * s + to[1]
                end = (tip[0] + edge * c, tip[1] + edge * s) if led else (np.nan, np.nan)
                cost = PER_TURN * rank + (LEADERED + PER_MM * away if led else 0.3 * away)
                rows.append((x, y, *end, cost))
    found = np.array(rows)
    return _NameSpots(wanted, found[:, :2], found[:, 2:4], found[:, 4])


def _tips(wanted: WantedName) -> list[tuple[XY, tuple[float, ...]]]:
    """Return where a name may belong, each with the directions in which it may stand from there."""
    if wanted.at is not None:
        return [(wanted.at, TURNS)]
    found = []
    every = wanted.curves if len(wanted.curves) < 5 else _spread(wanted.curves)
    shares = SHARES if len(every) < 3 else SHARES[:3]
    for curve in every:
        for share in shares:
            x, y = tangent_at(curve, share)
            across = np.arctan2(x, -y)
            if sin(across) < -1e-9:
                across += pi
            turns = tuple(across + off for off in (0.0, pi, 0.5, -0.5, pi + 0.5, pi - 0.5,
                                                   1.0, -1.0, pi + 1.0, pi - 1.0))
            found.append((point_at(curve, share), turns))
    return found


def _spread(curves: Sequence[Curve]) -> tuple[Curve, ...]:
    """Return four of many curves, from all over the row."""
    return tuple(curves[k * (len(curves) - 1) // 3] for k in range(4))


def placed_names(wanted: Sequence[WantedName], ground: NameGround) -> list[PlacedName]:
    """Return a place for every name; what costs `HARD` or more stands on something.

    Parameters
    ----------
    wanted : sequence of WantedName
    ground : NameGround
    """
    every = [_spots(one) for one in wanted]
    fixed = [spots.own + ground.costs(spots.batch) + _taken_for_other(spots, ground)
             for spots in every]
    standing = Standing([1] * len(every))
    chosen = [0] * len(every)
    costs = [0.0] * len(every)
    # The one with the fewest free places first.
    order = sorted(range(len(every)), key=lambda k: int((fixed[k] < 0.5 * HARD).sum()))
    for _ in range(1 + ROUNDS):
        for k in order:
            beside = standing.costs(every[k].batch)
            beside[:, k] = 0.0
            total = fixed[k] + beside.sum(axis=1)
            chosen[k] = int(total.argmin())
            costs[k] = float(total[chosen[k]])
            standing.put(k, *every[k].batch.only(chosen[k]))
    return [_placed(spots, at, cost)
            for spots, at, cost in zip(every, chosen, costs, strict=True)]


def _placed(spots: _NameSpots, k: int, cost: float) -> PlacedName:
    tip = None if np.isnan(spots.tips[k, 0]) else (float(spots.tips[k, 0]), float(spots.tips[k, 1]))
    return PlacedName(spots.wanted, (float(spots.middles[k, 0]), float(spots.middles[k, 1])), tip,
                      cost)


def _taken_for_other(spots: _NameSpots, ground: NameGround) -> Array:
    """Return what it costs that names without leaders stand nearer to something else."""
    cost = np.zeros(len(spots.middles))
    every = np.flatnonzero(np.isnan(spots.tips[:, 0]))
    for bare in np.split(every, range(TIP, len(every), TIP)):
        cost[bare] = _nearer_to_other(spots, ground, bare)
    return cost


def _nearer_to_other(spots: _NameSpots, ground: NameGround, bare: Ints) -> Array:
    lines, dots = ground.away(spots.middles[bare], spots.wanted.label.half)
    if spots.wanted.at is not None:
        own = np.array([hypot(x - spots.wanted.at[0], y - spots.wanted.at[1])
                        for x, y in ground.dots])
        mine, others = own < 1e-6, dots[:, own >= 1e-6]
        near = dots[:, mine].min(axis=1) if mine.any() else np.zeros(len(bare))
    else:
        mine = np.arange(lines.shape[1]) == spots.wanted.owner
        others = np.concatenate((lines[:, ~mine], dots), axis=1)
        near = (lines[:, mine].min(axis=1) if mine.any() else np.zeros(len(bare)))
    if not others.shape[1]:
        return np.zeros(len(bare))
    return np.where(others.min(axis=1) < near + CLEARLY, TAKEN_FOR, 0.0)


def standing_badly(placed: PlacedName) -> bool:
    """Tell whether a name stands on something."""
    return placed.cost >= HARD
