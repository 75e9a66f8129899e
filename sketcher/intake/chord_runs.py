"""Where a chain of straight pieces follows one circle in even steps."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import acos, cos, hypot, pi, radians, sin
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sketcher.geometry.circle_fit import FittedCircle, fitted_circle
from sketcher.geometry.curves import XY
from sketcher.interrupt import check

FEWEST = 4
"""Chords that make an arc: five places on one circle, which three of them give. One less will do
where straight pieces go on from both ends: four places and two directions."""
EVEN_STEPS = 1.25
"""Longest to shortest chord of an arc; its first and last may be shorter, cut by a neighbour."""
WIDEST_STEP = radians(50.0)
"""A corner that turns by more is no joint of two chords."""
RISE = 4.0
"""An arc rises above its chord by more than so many times what its places may be off."""
FREE_FORM = 3
"""So many arcs the one way round, none with a reason to end, are a free curve that was cut into
chords (found by trial with ellipses, no source)."""
OTHER_RADIUS = 1.5
"""Arcs side by side whose radii differ by more are meant so; pieces of a free curve differ less."""


class ChordRun(NamedTuple):
    """Chords `first` to `last` (not included) of a chain, and their circle.

    `step` is the angle of one chord, `sagitta` how far the circle rises above it.
    """

    first: int
    last: int
    circle: FittedCircle
    ccw: bool
    step: float
    sagitta: float


class Vertices:
    """A chain's places, shape (n + 1, 2), with what its chords are at each."""

    def __init__(self, places: NDArray[np.float64], off: float) -> None:
        self.places = places
        self.off = off
        steps = np.diff(places, axis=0)
        self.lengths = np.hypot(steps[:, 0], steps[:, 1])
        cross = steps[:-1, 0] * steps[1:, 1] - steps[:-1, 1] * steps[1:, 0]
        dot = np.einsum("ij,ij->i", steps[:-1], steps[1:])
        self.turns = np.concatenate([[0.0], np.arctan2(cross, dot), [0.0]])
        reach = np.minimum(self.lengths[:-1], self.lengths[1:])
        # A turn that the places' own noise could make says nothing of which way it goes.
        self.silent = np.concatenate([[True], np.abs(self.turns[1:-1]) * reach <= 2.0 * off,
                                      [True]])

    def run(self, first: int, last: int) -> ChordRun | None:
        """Return the run from one place to another if it is one."""
        lengths = self.lengths[first:last]
        inner = lengths[1:-1]
        slack = 2.0 * self.off
        longest = float(inner.max())
        if longest > EVEN_STEPS * float(inner.min()) + slack or \
                float(max(lengths[0], lengths[-1])) > EVEN_STEPS * float(inner.min()) + slack:
            return None
        told = self.turns[first + 1:last][~self.silent[first + 1:last]]
        if not len(told) or np.abs(told).max() > WIDEST_STEP or \
                (told[0] > 0.0) != (told > 0.0).all() or (told[0] < 0.0) != (told < 0.0).all():
            return None
        circle = fitted_circle(self.places[first:last + 1])
        if circle is None or circle.residual > self.off or longest >= 2.0 * circle.radius:
            return None
        step = 2.0 * float(np.arcsin(0.5 * float(inner.mean()) / circle.radius))
        sagitta = circle.radius * (1.0 - cos(0.5 * step))
        total = float(np.abs(self.turns[first + 1:last]).sum())
        if total + step > 2.0 * pi + 0.5 * step:
            return None
        return ChordRun(first, last, circle, bool(told[0] > 0.0), step, sagitta)

    def rises(self, run: ChordRun) -> bool:
        """Whether a run is more of an arc than its places' noise could make of a straight line."""
        total = min((run.last - run.first) * run.step, 2.0 * pi)
        return run.circle.radius * (1.0 - cos(0.5 * total)) > RISE * self.off


def chord_runs(vertices: Vertices, free: bool = False) -> list[ChordRun]:
    """Return the longest runs of a chain, from its first place on.

    Each goes as far as one circle holds, which takes the fewest arcs within a tolerance (Drysdale,
    Rote and Sturm, *Approximation of an open polygonal curve with a minimum number of circular
    arcs and biarcs*, 2008; from memory). How far is found by doubling and halving, so that the
    work grows little faster than the chords.

    Parameters
    ----------
    vertices : Vertices
    free : bool
        Whether a free curve becomes arcs too.
    """
    found: list[ChordRun] = []
    at, end = 0, len(vertices.lengths)
    while at + FEWEST <= end:
        check()
        run = _longest(vertices, at, end)
        if run is None or not vertices.rises(run):
            at += 1
            continue
        found.append(run)
        at = run.last
    return found if free else _without_free_form(vertices, found)


def _longest(vertices: Vertices, at: int, end: int) -> ChordRun | None:
    best = vertices.run(at, at + FEWEST)
    if best is None:
        return None
    reach = FEWEST
    while True:
        wider = min(2 * reach, end - at)
        run = vertices.run(at, at + wider) if wider > reach else None
        if run is None:
            break
        best, reach = run, wider
    low, high = reach, min(2 * reach, end - at)
    while high - low > 1:
        middle = (low + high) // 2
        run = vertices.run(at, at + middle)
        if run is None:
            high = middle
        else:
            best, low = run, middle
    if low < high:
        last = vertices.run(at, at + high)
        best = last or best
    return best


def _without_free_form(vertices: Vertices, runs: list[ChordRun]) -> list[ChordRun]:
    kept: list[ChordRun] = []
    group: list[ChordRun] = []
    for run in runs:
        if group and not _may_go_on(vertices, group[-1], run):
            kept += group if len(group) < FREE_FORM else []
            group = []
        group.append(run)
    kept += group if len(group) < FREE_FORM else []
    return [run for run in kept
            if not all(_goes_on(vertices, run, at, beside)
                       for at, beside in ((run.first, run.first - 1), (run.last, run.last)))]


def _goes_on(vertices: Vertices, run: ChordRun, at: int, beside: int) -> bool:
    """Whether the chain goes on past an end of a run as if it were one chord longer."""
    if not 0 <= beside < len(vertices.lengths):
        return False
    chord = 2.0 * run.circle.radius * sin(0.5 * run.step)
    turn = float(vertices.turns[at]) * (1.0 if run.ccw else -1.0)
    return (chord <= EVEN_STEPS * vertices.lengths[beside] <= EVEN_STEPS ** 2 * chord
            and abs(turn - run.step) <= 0.25 * run.step)


def _may_go_on(vertices: Vertices, one: ChordRun, other: ChordRun) -> bool:
    """Whether two arcs may be one free curve: it goes on in such steps, and bends much alike."""
    between = vertices.lengths[one.last:other.first]
    step = EVEN_STEPS * float(max(vertices.lengths[one.first], vertices.lengths[other.first]))
    small, large = sorted((one.circle.radius, other.circle.radius))
    return bool((between <= step).all()) and one.ccw == other.ccw and large < OTHER_RADIUS * small


def shortest_runs(vertices: Vertices, runs: Sequence[ChordRun], ring: bool) -> Iterator[ChordRun]:
    """Yield runs of three even chords between longer pieces or other runs.

    Four places are too few to tell an arc by themselves: what goes on at their ends has to.

    Parameters
    ----------
    vertices : Vertices
    runs : sequence of ChordRun
        Those that were found.
    ring : bool
        Whether the chain is closed.
    """
    lengths, count, few = vertices.lengths, len(vertices.lengths), FEWEST - 1
    if count < few + 2:
        return
    held = np.full(count, -1)  # which run holds each chord
    for number, run in enumerate(runs):
        held[run.first:run.last] = number
    at = np.arange(0 if ring else 1, count - few + (1 if ring else 0))
    three = np.stack([lengths[at + k] for k in range(few)])
    slack = 2.0 * vertices.off
    fits = three.max(axis=0) <= EVEN_STEPS * three.min(axis=0) + slack
    for k in range(few):
        fits &= held[at + k] < 0
    for beyond in ((at - 1) % count, (at + few) % count):
        fits &= (held[beyond] >= 0) | (lengths[beyond] > EVEN_STEPS * three.max(axis=0) + slack)
    for first in at[fits].tolist():
        found = vertices.run(first, first + few)
        if found is not None and vertices.rises(found):
            yield found


def ring_of(vertices: Vertices) -> ChordRun | None:
    """Return the run all the way round of a closed chain, its first place given again last."""
    count = len(vertices.lengths)
    inner = vertices.lengths
    if count < 2 * FEWEST - 1 or \
            inner.max() > EVEN_STEPS * np.sort(inner)[1] + 2.0 * vertices.off:
        return None  # one step of a circle may be what was left over at the end
    circle = fitted_circle(vertices.places[:-1])
    if circle is None or circle.residual > vertices.off:
        return None
    told = vertices.turns[1:-1]
    if np.abs(told).max() > WIDEST_STEP + 1e-3 or not ((told > 0).all() or (told < 0).all()):
        return None
    half = 0.5 * float(np.median(inner)) / circle.radius
    step = 2.0 * (0.5 * pi - acos(min(half, 1.0)))
    return ChordRun(0, count, circle, bool(told[0] > 0.0), step,
                    circle.radius * (1.0 - cos(0.5 * step)))


def heading(run: ChordRun, place: NDArray[np.float64]) -> XY:
    """Return the way of travel of a run's circle at a place, as long as the radius."""
    x, y = float(place[0]) - run.circle.center[0], float(place[1]) - run.circle.center[1]
    return (-y, x) if run.ccw else (y, -x)


def breaks_from(run: ChordRun, place: NDArray[np.float64],
                direction: NDArray[np.float64]) -> float:
    """Return the angle between a line that goes on at a run's end and the circle there, radians.

    `direction` is the way of travel along the chain, whichever side the line is on.
    """
    way = heading(run, place)
    size = hypot(*way) * hypot(float(direction[0]), float(direction[1]))
    if size == 0.0:
        return pi
    return acos(max(-1.0, min(1.0, float(way[0] * direction[0] + way[1] * direction[1]) / size)))
