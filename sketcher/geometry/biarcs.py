"""A free curve as arcs and lines that go on tangent: pairs of arcs between places on it.

Source: Bolton, *Biarc curves*, Computer-Aided Design 7, 1975 (from memory): of all pairs of arcs
between two places with given directions, the one whose two tangent lengths are equal.
"""

from __future__ import annotations

from itertools import pairwise
from math import hypot, pi, sqrt

import numpy as np

from sketcher.errors import GeometryError
from sketcher.geometry.arcs import arc_from_tangent
from sketcher.geometry.curves import XY, Arc, Line
from sketcher.geometry.spline import Floats, Spline
from sketcher.interrupt import check

LOOKED_AT = 24
"""Places between two ends at which the distance is measured; a pair of arcs leaves a curve in at
most a few humps."""
SAFE = 0.95
"""What is measured at single places is a little less than what is between them."""
MOST_HALVINGS = 14
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
    nearest = np.full(len(every), np.inf)
    for piece in pieces:
        nearest = np.minimum(nearest, _distances(piece, every))
    return float(nearest.max())


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
    halved = _halved(curve, low, high, within, 0)
    for count in range(max(1, len(halved) // 4), len(halved) // 2):
        even: list[Line | Arc] = []
        for a, b in pairwise(np.linspace(low, high, count + 1).tolist()):
            pair = _pair(curve, a, b, within)
            if pair is None:
                break
            even += pair
        else:
            return even if len(even) < len(halved) else halved
    return halved


def _halved(
    curve: Spline, low: float, high: float, within: float, depth: int
) -> list[Line | Arc]:
    pair = _pair(curve, low, high, within)
    if pair is not None:
        return list(pair)
    if depth == MOST_HALVINGS:
        ends = curve.at(np.array([low, high]))[0]
        return [Line(_xy(ends[0]), _xy(ends[1]))]
    middle = 0.5 * (low + high)
    return [*_halved(curve, low, middle, within, depth + 1),
            *_halved(curve, middle, high, within, depth + 1)]


def _pair(
    curve: Spline, low: float, high: float, within: float
) -> tuple[Line | Arc, ...] | None:
    """Return the pair of arcs over a stretch, or None where it lies too far from the curve."""
    places, slopes = curve.at(np.linspace(low, high, LOOKED_AT + 2))
    last = curve.at(np.array([high]), before=True)[1][0]
    start, end = _xy(places[0]), _xy(places[-1])
    if np.ptp(places, axis=0).max() == 0.0:
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
    if sum(piece.length for piece in pieces) > 1.5 * steps:
        return None
    near = np.min([_distances(piece, places) for piece in pieces], axis=0)
    return pieces if near.max() <= SAFE * within else None


def _distances(piece: Line | Arc, places: Floats) -> Floats:
    """Distances of places from a piece, its ends counted where they are nearest."""
    ends = np.minimum(np.hypot(*(places - piece.start).T), np.hypot(*(places - piece.end).T))
    if isinstance(piece, Line):
        way = np.subtract(piece.end, piece.start)
        share = ((places - piece.start) @ way) / (way @ way)
        off = np.abs((places - piece.start) @ np.array([-way[1], way[0]])) / hypot(*way)
        apart: Floats = np.where((share >= 0.0) & (share <= 1.0), off, ends)
        return apart
    x, y = (places - piece.center).T
    middle = piece.start_angle + 0.5 * piece.sweep
    away = np.abs((np.arctan2(y, x) - middle + pi) % (2.0 * pi) - pi)
    on = away <= 0.5 * abs(piece.sweep)
    round_it: Floats = np.where(on, np.abs(np.hypot(x, y) - piece.radius), ends)
    return round_it


def _unit(slope: Floats, chord: Floats) -> XY | None:
    """Direction of a slope; of the chord beside it where the curve stands still."""
    for vector in (slope, chord):
        size = hypot(*vector)
        if size > 1e-12 * (1.0 + hypot(*chord)):
            return (float(vector[0] / size), float(vector[1] / size))
    return None


def _xy(place: Floats) -> XY:
    return (float(place[0]), float(place[1]))
