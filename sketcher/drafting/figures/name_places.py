"""Where the names of a figure stand: clear of lines and of one another, with leaders where needed.

A name with its numbers is one box of lettering; what it costs on lines and beside others is judged
as for dimensions (`layout.ink`). Hard names go first, then each has another look at what is free.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import cos, hypot, isnan, pi, sin

import numpy as np

from sketcher.drafting.figures.name_labels import PlacedName, WantedName
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
from sketcher.geometry.bounds import Box, bounds
from sketcher.geometry.curves import XY, Curve, Line
from sketcher.geometry.evaluate import point_at, tangent_at

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
LEANING = (0.0, pi, 0.5, -0.5, pi + 0.5, pi - 0.5, 1.0, -1.0, pi + 1.0, pi - 1.0)
"""Directions from a curve, in radians from square to it."""
ENOUGH = 3
"""Free places without a leader with which none with one is looked for (by trial)."""
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
        """Straight pieces of all lines, and whose they are, owner by owner."""
        pieces, owners = pieces_of((seen_as(curve), owner) for curve, _, owner in self.lines)
        order = np.argsort(owners, kind="stable")
        return pieces[order], owners[order]

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
        if len(owners):
            some, first = np.unique(owners, return_index=True)
            found[:, some] = np.minimum.reduceat(_from_boxes(middles, half, pieces), first, axis=1)
        dots = np.array(self.dots, float).reshape(-1, 2)
        gap = np.abs(middles[:, None] - dots[None]) - half
        return found, np.hypot(*np.moveaxis(np.maximum(gap, 0.0), -1, 0))


def seen_as(curve: Curve) -> Curve:
    """Return a curve, or the line across it where it is no larger than a dot."""
    x0, y0, x1, y1 = bounds(curve)
    return curve if max(x1 - x0, y1 - y0) > 2.0 * DOT else Line((x0, y0), (x1, y1))


def _from_boxes(middles: Array, half: tuple[float, float], pieces: Array) -> Array:
    """Return about how far level boxes are from straight pieces, (boxes, pieces).

    It is judged by five places on each piece.
    """
    shares = np.linspace(0.0, 1.0, 5)[:, None]
    spots = (pieces[:, None, :2] + shares * (pieces[:, None, 2:] - pieces[:, None, :2]))
    gap = np.abs(middles[:, None] - spots.reshape(1, -1, 2)) - half
    away = np.hypot(*np.moveaxis(np.maximum(gap, 0.0), -1, 0))
    return np.asarray(away.reshape(len(middles), len(pieces), 5).min(axis=2))


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


def _spots(wanted: WantedName, led: bool) -> _NameSpots:
    """Return the places without leaders, or those with."""
    half = wanted.label.half
    edge = DOT + 0.3 if wanted.at is not None else 0.0
    rows: list[tuple[float, ...]] = []
    for tip, turns in _tips(wanted, led):
        for rank, turn in enumerate(turns):
            c, s = cos(turn), sin(turn)
            to = (half[0] * max(-1.0, min(1.0, 1.4 * c)), half[1] * max(-1.0, min(1.0, 1.4 * s)))
            for away in AWAY if led else BESIDE:
                x, y = tip[0] + away * c + to[0], tip[1] + away * s + to[1]
                end = (tip[0] + edge * c, tip[1] + edge * s) if led else (np.nan, np.nan)
                cost = PER_TURN * rank + (LEADERED + PER_MM * away if led else 0.3 * away)
                rows.append((x, y, *end, cost))
    found = np.array(rows)
    return _NameSpots(wanted, found[:, :2], found[:, 2:4], found[:, 4])


def _tips(wanted: WantedName, led: bool) -> list[tuple[XY, tuple[float, ...]]]:
    """Return where a name may belong, each with the directions in which it may stand from there."""
    if wanted.at is not None:
        return [(wanted.at, TURNS)]
    found = []
    every = wanted.curves if len(wanted.curves) < 5 else _spread(wanted.curves)
    shares = SHARES[:3] if len(every) > 2 else SHARES[:5] if led else SHARES
    for curve in every:
        for share in shares:
            x, y = tangent_at(curve, share)
            across = np.arctan2(x, -y)
            if sin(across) < -1e-9:
                across += pi
            turns = tuple(across + off for off in (LEANING[:6] if led else LEANING))
            found.append((point_at(curve, share), turns))
    return found


def _spread(curves: Sequence[Curve]) -> tuple[Curve, ...]:
    """Return four of many curves, from all over the row."""
    return tuple(curves[k * (len(curves) - 1) // 3] for k in range(4))


class _NameChoice:
    """Where one name may stand, and what that costs on the ground.

    Places with leaders are looked at only where those without are few: most names need none.
    """

    def __init__(self, wanted: WantedName, ground: NameGround) -> None:
        self.wanted, self.ground = wanted, ground
        self.led = False
        self.spots = _spots(wanted, False)
        self.costs = self._costs(self.spots)
        if self.free < ENOUGH:
            self.lead()

    def _costs(self, spots: _NameSpots) -> Array:
        return np.asarray(spots.own + self.ground.costs(spots.batch)
                          + _taken_for_other(spots, self.ground))

    @property
    def free(self) -> int:
        """How many places are free."""
        return int((self.costs < TAKEN_FOR).sum())

    def lead(self) -> None:
        """Look at places with leaders too."""
        self.led = True
        more = _spots(self.wanted, True)
        self.costs = np.concatenate((self.costs, self._costs(more)))
        self.spots = _NameSpots(self.wanted, np.concatenate((self.spots.middles, more.middles)),
                                np.concatenate((self.spots.tips, more.tips)),
                                np.concatenate((self.spots.own, more.own)))

    def best(self, standing: Standing, number: int) -> tuple[int, float]:
        """Return the best place beside the names that stand, and its cost."""
        beside = standing.costs(self.spots.batch)
        beside[:, number] = 0.0
        total = self.costs + beside.sum(axis=1)
        at = int(total.argmin())
        if total[at] >= TAKEN_FOR and not self.led:
            self.lead()
            return self.best(standing, number)
        return at, float(total[at])

    def placed(self, at: int, cost: float) -> PlacedName:
        """Return the name at a place."""
        (x, y), (u, v) = self.spots.middles[at].tolist(), self.spots.tips[at].tolist()
        return PlacedName(self.wanted, (x, y), None if isnan(u) else (u, v), cost)


def placed_names(wanted: Sequence[WantedName], ground: NameGround) -> list[PlacedName]:
    """Return a place for every name; what costs `HARD` or more stands on something.

    Parameters
    ----------
    wanted : sequence of WantedName
    ground : NameGround
    """
    every = [_NameChoice(one, ground) for one in wanted]
    standing = Standing([1] * len(every))
    chosen = [(0, 0.0)] * len(every)
    # The one with the fewest free places first.
    order = sorted(range(len(every)), key=lambda k: every[k].free)
    for turn in range(1 + ROUNDS):
        before = list(chosen)
        for k in order:
            chosen[k] = every[k].best(standing, k)
            standing.put(k, *every[k].spots.batch.only(chosen[k][0]))
        if turn and before == chosen:
            break
    return [one.placed(at, cost) for one, (at, cost) in zip(every, chosen, strict=True)]


def _taken_for_other(spots: _NameSpots, ground: NameGround) -> Array:
    """Return what it costs that names without leaders stand nearer to something else."""
    cost = np.zeros(len(spots.middles))
    every = np.flatnonzero(np.isnan(spots.tips[:, 0]))
    for bare in (every[k:k + TIP] for k in range(0, len(every), TIP)):
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
