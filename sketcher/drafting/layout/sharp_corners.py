"""Sharp corners that a fillet or chamfer has taken: where their edges would meet, drawn thin.

A dimension to such a corner says nothing unless the corner is on the drawing: thin lines carry both
edges on to where they cross and a little beyond, and the extension line begins there (ISO 129-1,
from memory: projection lines cross at the theoretical point; ASME Y14.5M-1994, 1.7.2: extension
lines from the surfaces pass through it).
"""

from __future__ import annotations

from collections.abc import Iterable
from math import atan2, cos, hypot, pi, sin, tau

import numpy as np

from sketcher.drafting.layout.ink import Array
from sketcher.geometry.curves import XY, Arc, Curve, Line

IN_LINE = 0.02  # mm on paper: a tenth of the thinnest line, as for center lines on one line
THERE = 0.3  # mm: what is nearer to a place than half a thick line is at the place
MOST_AIR = 60.0  # mm: a fillet that is larger hides what its edges would meet at
LEAST_AIR = 0.8  # mm: a corner that is broken by less is seen as a corner
BEYOND, GAP, SHARE = 2.0, 1.0, 0.3
"""Millimetres that the thin lines run beyond the corner, and that they keep from the end of their
edge: of a small corner no more than a share of it."""
CLEAR, OF_CORNER, STEP, MOST_STEPS = 0.6, 0.7, 0.25, 80
"""mm from the middle of an edge from which a thin line is seen to begin apart from it; the share of
it where a flat corner is no further away; and how it is looked for."""
LEAST_TURN = 0.02  # sine: edges that turn less hardly cross anywhere


class SharpCorners:
    """The lost corners of one drawing.

    Parameters
    ----------
    outline : iterable of Curve
    edges : float (n, 4)
        The same in straight pieces.
    centers : float (n, 4), optional
        Center lines in straight pieces: what is on one of them is no lost corner either.
    """

    def __init__(
        self, outline: Iterable[Curve], edges: Array, centers: Array | None = None
    ) -> None:
        curves = list(outline)
        self._lines = np.array([(*c.start, *c.end) for c in curves if isinstance(c, Line)],
                               float).reshape(-1, 4)
        self._arcs = [c for c in curves if isinstance(c, Arc)]
        self._edges = edges
        self._pieces = edges if centers is None else np.concatenate((edges, centers))
        self._known: dict[XY, tuple[Line | Arc, ...]] = {}

    def strokes(self, at: XY) -> tuple[Line | Arc, ...]:
        """Return the two thin lines that cross at a place, or none where there is no lost corner.

        Parameters
        ----------
        at : XY
            In mm on paper.
        """
        if at not in self._known:
            self._known[at] = self._crossing(at)
        return self._known[at]

    def _crossing(self, at: XY) -> tuple[Line | Arc, ...]:
        if near(self._pieces, at) < THERE:
            return ()
        found: list[tuple[float, XY, Line | Arc]] = [*self._straight(at), *self._round(at)]
        found.sort(key=lambda item: item[0])
        for k, (_, (ux, uy), one) in enumerate(found):
            for _, (vx, vy), other in found[k + 1:]:
                if abs(ux * vy - uy * vx) > LEAST_TURN:
                    return (one, other)
        return ()

    def _straight(self, at: XY) -> Iterable[tuple[float, XY, Line]]:
        """Give of each edge that leads to a place: how far it is, its direction, what is drawn."""
        if not len(self._lines):
            return
        ends = self._lines.reshape(-1, 2, 2)
        way = ends[:, 1] - ends[:, 0]
        size = np.hypot(way[:, 0], way[:, 1])
        way = way / np.maximum(size, 1e-9)[:, None]
        offset = np.array(at) - ends[:, 0]
        along = (offset * way).sum(axis=1)
        off = np.abs(offset[:, 0] * way[:, 1] - offset[:, 1] * way[:, 0])
        air = np.where(along > 0.0, along - size, -along)
        some = (off < IN_LINE) & (air > LEAST_AIR) & (air < MOST_AIR) & (size > IN_LINE)
        for k in some.nonzero()[0].tolist():
            sign = 1.0 if along[k] > 0.0 else -1.0
            u = (sign * float(way[k, 0]), sign * float(way[k, 1]))
            away = float(air[k])
            end = (at[0] - away * u[0], at[1] - away * u[1])
            clear = min(CLEAR, OF_CORNER * near(self._edges, at))
            begin = away - clear_start(self._edges, end, u, min(GAP, SHARE * away), clear)
            yield away, u, Line((at[0] - begin * u[0], at[1] - begin * u[1]),
                                (at[0] + BEYOND * u[0], at[1] + BEYOND * u[1]))

    def _round(self, at: XY) -> Iterable[tuple[float, XY, Arc]]:
        for arc in self._arcs:
            (cx, cy), r = arc.center, arc.radius
            if abs(hypot(at[0] - cx, at[1] - cy) - r) > IN_LINE:
                continue
            turn = atan2(at[1] - cy, at[0] - cx)
            first, last = sorted((arc.start_angle, arc.start_angle + arc.sweep))
            ahead, behind = (turn - last) % tau, (first - turn) % tau
            away = r * min(ahead, behind)
            if not LEAST_AIR < away < min(MOST_AIR, 0.5 * pi * r):
                continue
            sign = 1.0 if ahead < behind else -1.0
            begin = turn - sign * (away - min(GAP, SHARE * away)) / r
            end = turn + sign * BEYOND / r
            low, high = min(begin, end), max(begin, end)
            yield away, (-sin(turn), cos(turn)), Arc(
                (cx, cy), (cx + r * cos(low), cy + r * sin(low)),
                (cx + r * cos(high), cy + r * sin(high)))


def near(pieces: Array, at: XY) -> float:
    """Return the distance of a place from straight pieces; infinite without any."""
    return float(_distances(pieces, np.array([at]))[0])


def clear_start(edges: Array, at: XY, way: XY, first: float, clear: float = CLEAR) -> float:
    """Return how far from a place a thin line begins so that it is seen apart from all edges.

    What runs on from an edge lies close beside the fillet there, and what touches a round beside
    the round: a gap along the line alone would not be seen.

    Parameters
    ----------
    edges : float (n, 4)
    at, way : XY
        The place, and the unit direction.
    first : float
        Distance in mm from which a start is looked for; taken where none further on is clear.
    clear : float
        Distance from the middle of an edge.
    """
    if near(edges, (at[0] + first * way[0], at[1] + first * way[1])) >= clear:
        return first
    s = first + STEP * np.arange(1, MOST_STEPS)
    places = np.array(at) + s[:, None] * np.array(way)
    low, high = places.min(axis=0) - clear, places.max(axis=0) + clear
    ends = edges.reshape(-1, 2, 2)
    beside = ((ends.max(axis=1) > low) & (ends.min(axis=1) < high)).all(axis=1)
    free = _distances(edges[beside], places) >= clear
    return float(s[free.argmax()]) if free.any() else first


def _distances(pieces: Array, places: Array) -> Array:
    """Return the distance of each place from the nearest of straight pieces."""
    way = pieces[:, 2:] - pieces[:, :2]
    offset = places[:, None] - pieces[None, :, :2]
    size = np.maximum((way * way).sum(axis=1), 1e-18)
    t = np.clip((offset * way).sum(axis=2) / size, 0.0, 1.0)
    away = offset - t[..., None] * way
    found: Array = np.sqrt((away * away).sum(axis=2)).min(axis=1, initial=np.inf)
    return found
