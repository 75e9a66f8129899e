"""A free curve as arcs and lines that go on tangent: pairs of arcs between places on it.

Source: Bolton, *Biarc curves*, Computer-Aided Design 7, 1975 (from memory): of all pairs of arcs
between two places with given directions, the one whose two tangent lengths are equal.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import hypot, pi, sqrt

import numpy as np

from sketcher.errors import GeometryError
from sketcher.geometry.arcs import arc_from_tangent
from sketcher.geometry.curve_table import CurveTable
from sketcher.geometry.curves import XY, Arc, Line
from sketcher.geometry.spline import Floats, Spline
from sketcher.geometry.vicinity import Vicinity
from sketcher.interrupt import check

LOOKED_AT = 24
"""Places between two ends at which the distance is measured; a pair of arcs leaves a curve in at
most a few humps."""
SAFE = 0.95
"""What is measured at single places is a little less than what is between them."""
MOST_HALVINGS = 14
MOST_HARD = 8
"""So many places at which even stretches were too long are kept of one trial."""
STRAIGHT = 1e-7
"""An arc that turns by less, in radians, is a line."""
WIDEST = 0.75 * pi
"""An arc of a pair turns by no more: then a place belongs to the arc on its side of the joint."""


def biarc(start: XY, leaving: XY, end: XY, arriving: XY) -> tuple[Line | Arc, ...]:
    """Return the arcs from one place and direction to another.

    Parameters
    ----------
    start, end : (x, y)
    leaving, arriving : (x, y)
        Unit vectors along the way.

    Returns
    -------
    tuple of Line or Arc
        Two that go on tangent, or the one line straight ahead.

    Raises
    ------
    GeometryError
        When the second direction cannot be reached.
    """
    vx, vy = end[0] - start[0], end[1] - start[1]
    sx, sy = leaving[0] + arriving[0], leaving[1] + arriving[1]
    square, along = vx * vx + vy * vy, vx * sx + vy * sy
    apart = 2.0 * (1.0 - leaving[0] * arriving[0] - leaving[1] * arriving[1])
    # The root of apart d² + 2 along d - square = 0 above zero, in the form that does not cancel.
    below = along + sqrt(along * along + apart * square)
    if square == 0.0 or below <= 1e-9 * sqrt(square):
        raise GeometryError("curve", "turns back on itself", "divide it there")
    d = square / below
    joint = (0.5 * (start[0] + end[0] + d * (leaving[0] - arriving[0])),
             0.5 * (start[1] + end[1] + d * (leaving[1] - arriving[1])))
    first = _towards(start, leaving, joint)
    back = _towards(end, (-arriving[0], -arriving[1]), joint)
    last = Line(joint, end) if isinstance(back, Line) else Arc(
        back.center, joint, end, not back.ccw)
    if isinstance(first, Line) and isinstance(last, Line):
        return (Line(start, end),)
    return first, last


def spline_arcs(curve: Spline, within: float) -> list[Line | Arc]:
    """Return arcs and lines that follow a free curve.

    A curve that is its own mirror image is divided like one: each stretch between knots at which
    it may break is halved, or divided evenly, until all pairs fit; the fewer pieces are taken.

    Parameters
    ----------
    curve : Spline
    within : float
        How far they may lie from the curve, in its unit.

    Returns
    -------
    list of Line or Arc
        End to end in order of travel, tangent wherever the curve is; empty for a curve without
        length.
    """
    found: list[Line | Arc] = []
    runs = _runs(curve)
    for low, high in runs:
        check()
        found += _followed(curve, low, high, within)
    return found


def furthest(curve: Spline, pieces: list[Line | Arc], places: int = 400) -> float:
    """Return how far a free curve lies from the pieces that follow it, at so many places a run."""
    every = np.concatenate([curve.at(np.linspace(*run, places))[0] for run in _runs(curve)])
    return float(Vicinity(CurveTable(pieces)).nearest(every)[1].max())


def _towards(start: XY, direction: XY, end: XY) -> Line | Arc:
    ahead = (end[0] - start[0]) * direction[0] + (end[1] - start[1]) * direction[1]
    across = (end[1] - start[1]) * direction[0] - (end[0] - start[0]) * direction[1]
    if abs(across) <= STRAIGHT * abs(ahead) and ahead > 0.0:
        return Line(start, end)
    return arc_from_tangent(start, direction, end)


def _runs(curve: Spline) -> list[tuple[float, float]]:
    """Parameters between knots so often repeated that the curve may break there."""
    first, last = curve.span
    ends = [first, *(knot for knot in curve.breaks[1:-1]
                     if curve.knots.count(knot) >= curve.degree), last]
    return list(pairwise(ends))


def _followed(curve: Spline, low: float, high: float, within: float) -> list[Line | Arc]:
    halved = _halved(curve, low, high, within)
    hard = np.array([0.5 * (low + high)])
    for count in range(max(1, len(halved) // 4), len(halved) // 2):
        check()
        ends = np.linspace(low, high, count + 1)
        # Where other counts failed this is likeliest to: most are done with at a few stretches.
        likely = np.unique(np.searchsorted(ends, hard, "right").clip(1, count) - 1)
        if None in _pairs(curve, ends[likely], ends[likely + 1], within):
            continue
        pairs = _pairs(curve, ends[:-1], ends[1:], within)
        failed = [k for k, pair in enumerate(pairs) if pair is None]
        if not failed:
            even = [piece for pair in pairs if pair is not None for piece in pair]
            return even if len(even) < len(halved) else halved
        some = np.array(failed[:: -(-len(failed) // MOST_HARD)])
        hard = np.concatenate([hard, 0.5 * (ends[some] + ends[some + 1])])
    return halved


def _halved(curve: Spline, low: float, high: float, within: float) -> list[Line | Arc]:
    found: dict[float, tuple[Line | Arc, ...]] = {}
    lows, highs = np.array([low]), np.array([high])
    for depth in range(MOST_HALVINGS + 1):
        check()
        pairs = _pairs(curve, lows, highs, within)
        if depth == MOST_HALVINGS:
            starts, ends = curve.at(lows)[0], curve.at(highs)[0]
            pairs = [pair if pair is not None else (Line(_xy(a), _xy(b)),)
                     for pair, a, b in zip(pairs, starts, ends, strict=True)]
        found.update((at, pair) for at, pair in zip(lows.tolist(), pairs, strict=True)
                     if pair is not None)
        left = np.array([pair is None for pair in pairs])
        if not left.any():
            break
        lows, highs = lows[left], highs[left]
        middle = 0.5 * (lows + highs)
        lows, highs = (np.column_stack([lows, middle]).ravel(),
                       np.column_stack([middle, highs]).ravel())
    return [piece for _, pair in sorted(found.items()) for piece in pair]


def _pairs(
    curve: Spline, lows: Floats, highs: Floats, within: float
) -> list[tuple[Line | Arc, ...] | None]:
    """Return the pair of arcs over each stretch, or None where it lies too far from the curve."""
    looked_at = np.linspace(lows, highs, LOOKED_AT + 2, axis=1)
    places, slopes = (each.reshape(*looked_at.shape, 2) for each in curve.at(looked_at.ravel()))
    last = curve.at(highs, before=True)[1]
    pairs = [_pair(*each) for each in zip(places, slopes, last, strict=True)]
    owner = np.array([k for k, pair in enumerate(pairs) for _ in pair or ()], dtype=np.intp)
    if len(owner):
        apart = _distances([piece for pair in pairs for piece in pair or ()], places[owner])
        near = np.full(places.shape[:2], np.inf)
        np.minimum.at(near, owner, apart)
        for k in set(owner[near[owner].max(axis=1) > SAFE * within].tolist()):
            pairs[k] = None
    return pairs


def _pair(places: Floats, slopes: Floats, last: Floats) -> tuple[Line | Arc, ...] | None:
    """Return the pair of arcs through the ends of places, none where it goes another way."""
    start, end = _xy(places[0]), _xy(places[-1])
    if (places == places[0]).all():
        return ()
    leaving = _unit(slopes[0], places[1] - places[0])
    arriving = _unit(last, places[-1] - places[-2])
    if leaving is None or arriving is None:
        return None
    try:
        pieces = biarc(start, leaving, end, arriving)
    except GeometryError:
        return None
    if any(isinstance(piece, Arc) and abs(piece.sweep) > WIDEST for piece in pieces):
        return None
    # Backwards, or round the other way, is no way along the curve.
    steps = np.hypot(*np.diff(places, axis=0).T).sum()
    return pieces if sum(piece.length for piece in pieces) <= 1.5 * steps else None


def _distances(pieces: Sequence[Line | Arc], places: Floats) -> Floats:
    """Distances of places (k, n, 2) from a piece each, its ends counted where they are nearest."""
    start = np.array([piece.start for piece in pieces])[:, None]
    end = np.array([piece.end for piece in pieces])[:, None]
    apart: Floats = np.minimum(_long(places - start), _long(places - end))
    round_ = np.array([isinstance(piece, Arc) for piece in pieces])
    if not round_.all():
        way, here = (end - start)[~round_], (places - start)[~round_]
        size = _long(way)
        share = (here * way).sum(axis=-1) / size ** 2
        off = np.abs(here[..., 1] * way[..., 0] - here[..., 0] * way[..., 1]) / size
        apart[~round_] = np.where((share >= 0.0) & (share <= 1.0), off, apart[~round_])
    arcs = [piece for piece in pieces if isinstance(piece, Arc)]
    if arcs:
        center = np.array([arc.center for arc in arcs])[:, None]
        middle = np.array([arc.start_angle + 0.5 * arc.sweep for arc in arcs])[:, None]
        radius, sweep = np.array([(arc.radius, arc.sweep) for arc in arcs]).T[..., None]
        here = places[round_] - center
        away = np.abs((np.arctan2(here[..., 1], here[..., 0]) - middle + pi) % (2.0 * pi) - pi)
        rim = np.abs(_long(here) - radius)
        apart[round_] = np.where(away <= 0.5 * np.abs(sweep), rim, apart[round_])
    return apart


def _long(vectors: Floats) -> Floats:
    long: Floats = np.hypot(vectors[..., 0], vectors[..., 1])
    return long


def _unit(slope: Floats, chord: Floats) -> XY | None:
    """Direction of a slope; of the chord beside it where the curve stands still."""
    for vector in (slope, chord):
        size = hypot(*vector)
        if size > 1e-12 * (1.0 + hypot(*chord)):
            return (float(vector[0] / size), float(vector[1] / size))
    return None


def _xy(place: Floats) -> XY:
    return (float(place[0]), float(place[1]))
